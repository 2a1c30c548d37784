"""Advice in words: what to do, what each reading would mean, what to press."""

from typing import Any

import pytest

import harness
from diagnostics.selectors.advice import advised_tests
from tests.diagnostics.builders import BENCH_TOML, HORN

H = harness.loads(BENCH_TOML, name="bench example")


def advice(**changes: Any) -> dict[str, Any]:
    return {
        "rig": HORN,
        "tool": "voltmeter",
        "probe": "horn.2",
        "clip": "frame.battery",
        "bits": 1.3,
        "minutes": 5.2,
        "outcomes": [],
        "steps": ["Set: key switch to ON."],
        "cautions": ["Keep the probe off neighbouring metal."],
        "words": "voltmeter from frame to horn, pin 2",
        **changes,
    }


def outcome(reads: Any) -> dict[str, Any]:
    return {
        "reads": reads,
        "probability": 0.25,
        "means": "Horn is dead inside.",
        "example": "12.4",
    }


def test_a_meter_takes_a_number_and_shows_its_bands() -> None:
    bands = [
        ({"from_v": None, "to_v": -11.0}, "\N{MINUS SIGN}11 V or less"),
        ({"from_v": -11.0, "to_v": 0.5}, "\N{MINUS SIGN}11 to 0.5 V"),
        ({"from_v": 0.5, "to_v": None}, "0.5 V or more"),
        ({"from_ohm": 2.0, "to_ohm": 10.0}, "2 to 10 \N{OHM SIGN}"),
        ({}, "another reading"),
        ("open", "Open (no path)"),
    ]
    said = advice(outcomes=[outcome(reads) for reads, _ in bands])
    (test,) = advised_tests(h=H, advice=[said])
    assert [view.label for view in test.outcomes] == [label for _, label in bands]
    assert (test.words, test.unit) == ((), "V")


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"tool": "test-lamp"}, ["lit", "dim", "dark"]),
        (
            {"tool": "eye", "device": "horn", "probe": None, "clip": None},
            ["works", "weak", "dead"],
        ),
        (
            {"tool": "eye", "device": "main-fuse", "probe": None, "clip": None},
            ["intact", "blown"],
        ),
    ],
)
def test_lamp_and_eye_are_answered_by_one_tap(
    changes: dict[str, Any], words: list[str]
) -> None:
    (test,) = advised_tests(h=H, advice=[advice(**changes)])
    assert [value for value, _ in test.words] == words


def test_where_the_leads_go_is_found_on_the_bike() -> None:
    (test,) = advised_tests(h=H, advice=[advice()])
    assert test.probe is not None
    assert (test.probe.device, test.probe.pin, test.probe.place) == (
        "horn",
        "2",
        "Headlamp shell",
    )
    (wire,) = test.probe.wires
    assert (wire.wire_id, wire.letters, wire.words, wire.other_end) == (
        "4",
        "GYBK",
        "grey with black tracer",
        "horn-button.1",
    )


def test_a_clamp_names_its_wire_and_takes_a_number() -> None:
    clamp = advice(tool="ammeter", probe=None, clip=None, wire="4", moving=True)
    said = clamp | {"outcomes": [outcome({"from_a": None, "to_a": 0.5})]}
    (test,) = advised_tests(h=H, advice=[said])
    assert test.wire is not None
    assert (test.wire.wire_id, test.wire.letters) == ("4", "GYBK")
    assert (test.words, test.unit, test.tool_label) == ((), "A", "Clamp meter")
    assert (test.probe, test.clip, test.moving) == (None, None, True)
    assert test.outcomes[0].label == "0.5 A or less"


def test_the_best_test_is_number_one_and_keeps_its_words() -> None:
    tests = advised_tests(h=H, advice=[advice(), advice(minutes=0.5)])
    assert [test.number for test in tests] == [1, 2]
    assert tests[0].summary == "Voltmeter from frame to horn, pin 2"
    assert [test.minutes for test in tests] == ["5", "under 1"]
    assert tests[0].rig_json == '{"horn-button": "PRESSED", "key-switch": "ON"}'


def test_the_engines_own_advice_can_be_shown() -> None:
    case = harness.Case(H)
    case.add({"tool": "eye", "device": "horn", "rig": HORN, "reads": "dead"})
    tests = advised_tests(h=H, advice=case.advise(limit=5))
    assert tests
    for test in tests:
        assert test.steps
        assert len(test.outcomes) >= 2
        assert all(view.label and view.means for view in test.outcomes)


def test_a_chained_test_says_only_what_is_different() -> None:
    other = advice(
        probe="horn.1",
        steps=["Set: key switch to ON.", "Hold the measuring lead on the horn, pin 1."],
        words="voltmeter from frame to horn, pin 1",
    )
    then = advice(words="test lamp from frame to horn, pin 1")
    said = advice(
        chained=[other],
        then=then,
        reason="It hangs on finding finding 4 alone.",
        steps=["Set: key switch to ON.", "Hold the measuring lead on the horn, pin 2."],
    )
    (test,) = advised_tests(h=H, advice=[said])
    assert (test.reason, test.then) == (
        "It hangs on finding 4 alone.",
        "test lamp from frame to horn, pin 1",
    )
    (along,) = test.chained
    assert (test.tag, along.tag) == ("1", "1-1")
    assert along.steps == ("Hold the measuring lead on the horn, pin 1.",)
    assert along.cautions == ()
    assert along.rig_json == test.rig_json
    assert along.probe is not None
    assert along.probe.terminal == "horn.1"


def test_the_engine_gives_its_reason() -> None:
    case = harness.Case(H)
    case.add({"tool": "eye", "device": "horn", "rig": HORN, "reads": "dead"})
    for test in advised_tests(h=H, advice=case.advise(limit=3)):
        assert test.reason.endswith(".")
        assert test.reason[0].isupper()
