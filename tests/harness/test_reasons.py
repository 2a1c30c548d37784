"""Why a test is advised, and what to read as well while there."""

from functools import cache
from typing import Any

from harness import findings
from harness.case import Case
from harness.minutes import places_of
from tests.harness.hunting import as_test
from tests.harness.library import LOOMS, loom
from tests.harness.small_looms import DEAD_HORN, HORN, TAIL_WORKS, horn_and_tail


@cache
def advised() -> list[dict[str, Any]]:
    case = Case(horn_and_tail())
    case.add(DEAD_HORN)
    case.add(TAIL_WORKS)
    return case.advise(limit=5)


def test_every_advice_has_one_sentence_of_reason() -> None:
    for advice in advised():
        reason = advice["reason"]
        assert reason.endswith(".")
        assert ". " not in reason
        assert "open" in reason, "it says what has to be opened, or that nothing has"


def test_tests_along_with_the_first_need_no_other_rig_and_no_other_place() -> None:
    h = loom(LOOMS[0])
    case = Case(h)
    case.add({"rig": {}, "tool": "eye", "device": "main-fuse", "reads": "intact"})
    for _ in range(3):
        advice = case.advise(limit=1)
        if not advice:
            break
        first = findings.test_from(h, as_test(advice[0]), where="first")
        for other in advice[0]["chained"]:
            along = findings.test_from(h, as_test(other), where="along")
            assert along.rig == first.rig
            opened = places_of(h, first)
            for finding in case.findings:
                opened |= places_of(h, finding.test)
            assert places_of(h, along) <= opened
        likeliest = max(advice[0]["outcomes"], key=lambda o: o["probability"])
        case.add(as_test(advice[0]) | {"reads": likeliest["example"]})


def test_what_comes_next_is_a_test_that_can_be_made() -> None:
    then = advised()[0]["then"]
    if then is not None:
        findings.test_from(horn_and_tail(), as_test(then), where="then")


def test_a_bad_contact_is_tried_under_load() -> None:
    """Once a bad contact is what is left, the advice is a drop with current flowing."""
    h = horn_and_tail()
    case = Case(h)
    case.add({"rig": HORN, "tool": "eye", "device": "horn", "reads": "weak"})
    case.add(TAIL_WORKS)
    first = case.advise(limit=1)[0]
    assert first["tool"] == "voltmeter"
    assert first["rig"]["key-switch"] == "ON", "current flows"
    assert "under load" in first["reason"]
