"""Conflicts in words: what to doubt, and the test that settles it."""

import harness
from diagnostics.selectors.conflicts import conflict_view
from tests.diagnostics.builders import BENCH_TOML, HORN, STOP, TAIL

H = harness.loads(BENCH_TOML, name="bench example")
LAMP = {"tool": "test-lamp", "clip": "frame.battery", "rig": HORN}


def a_conflict() -> dict[str, object]:
    """Return the engine's own: the horn works, and yet no current comes to it."""
    case = harness.Case(H)
    for number, finding in enumerate(
        (
            {"tool": "eye", "device": "horn", "reads": "works", "rig": HORN},
            {"tool": "eye", "device": "rear-lamp.stop", "reads": "works", "rig": STOP},
            {"tool": "eye", "device": "rear-lamp.tail", "reads": "works", "rig": TAIL},
            {**LAMP, "probe": "horn.1", "reads": "dark"},
        ),
        start=1,
    ):
        case.add({"id": f"finding {number}", **finding})
    found = case.conflict()
    assert found is not None
    return found


def test_each_doubt_names_its_findings_and_how_likely_it_is() -> None:
    view = conflict_view(H, a_conflict())
    assert view is not None
    assert {doubt.kind for doubt in view.doubts} <= {"finding", "drawing", "faults"}
    first = view.doubts[0]
    assert first.findings
    assert first.words.startswith(f"Finding {first.findings[0]} (")
    assert first.percent.endswith("%")
    assert "inding finding" not in view.words


def test_the_test_that_settles_it_can_be_taken() -> None:
    view = conflict_view(H, a_conflict())
    assert view is not None
    assert view.test is not None
    assert view.test.tag == "settle"
    assert view.test.steps
    assert len(view.test.outcomes) >= 2
    assert "inding finding" not in "".join(o.means for o in view.test.outcomes)


def test_an_older_conflict_has_its_words_alone() -> None:
    said = {"findings": ["finding 1", "finding 2"], "words": "they clash"}
    view = conflict_view(H, said)
    assert view is not None
    assert (view.findings, view.words) == ((1, 2), "They clash")
    assert (view.doubts, view.test, view.another_hand) == ((), None, False)
