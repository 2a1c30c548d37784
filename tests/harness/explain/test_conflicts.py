"""A conflict as plain data and plain sentences."""

import json
from typing import Any

import pytest

from harness.conflict.judging import Weighed
from harness.conflict.redrawing import Move, Redrawn
from harness.conflict.supposed import AS_DRAWN, Supposed
from harness.explain.conflicts import doubt_words, redrawn_words, said
from harness.segments import Fault
from tests.harness.conflict.cases import (
    DARK_BEFORE,
    LIT_BEHIND,
    LIVE_WITHOUT_BATTERY,
    Given,
    bike,
    case_of,
    finding,
    rebuilt,
)
from tests.harness.conflict.test_drawings import SWAPPED, around_the_tail, reads
from tests.harness.explain.hunts import PAIR, WORKS
from tests.harness.small_looms import DEAD_HORN

DEAD = Fault("device:horn", "dead")


def conflict(*findings: Given) -> dict[str, Any]:
    found = case_of(*findings).conflict()
    assert found is not None
    assert json.loads(json.dumps(found)) == found
    return found


def test_no_conflict_is_none() -> None:
    assert case_of().conflict() is None
    assert case_of(DEAD_HORN, WORKS).conflict() is None
    assert case_of(*PAIR).conflict() is None


def test_a_lone_finding_is_named_and_taken_again_with_another_tool() -> None:
    found = conflict(DEAD_HORN, LIVE_WITHOUT_BATTERY)
    assert (found["findings"], found["sets"]) == (["f2"], [["f2"]])
    assert found["words"].startswith(
        "These findings cannot all be true of this drawing. Likeliest: finding f2 "
        "(test lamp from frame"
    )
    assert "was misread; likeliest then: " in found["words"]
    test = found["test"]
    assert (test["tool"], test["probe"], test["by"]) == (
        "voltmeter",
        "horn.1",
        "anyone",
    )
    assert test["steps"]
    assert any("earthed battery lead first" in words for words in test["cautions"])
    first, last = (outcome["means"] for outcome in test["outcomes"])
    assert first.startswith("Finding f2 was misread")
    assert last.startswith("Finding f2 stands: more is wrong")


def test_both_of_two_that_deny_each_other_are_doubted_and_a_test_tells_which() -> None:
    found = conflict(WORKS, DEAD_HORN, DARK_BEFORE, LIT_BEHIND)
    assert sorted(found["sets"]) == [["f3"], ["f4"]]
    assert {doubt["kind"] for doubt in found["doubts"]} >= {"finding"}
    assert sum(doubt["probability"] for doubt in found["doubts"]) == pytest.approx(1.0)
    assert "Or else: finding" in found["words"]
    assert "What settles it: " in found["words"]
    means = {outcome["means"][:21] for outcome in found["test"]["outcomes"]}
    assert len(means) > 1


def test_a_reading_that_only_another_hand_can_check_says_so() -> None:
    volts: Given = {"tool": "voltmeter", "probe": "horn.1", "reads": 60.0}
    found = conflict(volts)
    assert found["test"]["by"] == "another hand"
    assert "by another hand or with another meter" in found["words"]


def test_a_wire_not_as_drawn_is_told_in_plain_words() -> None:
    found = conflict(*reads(rebuilt(bike(), SWAPPED), around_the_tail()))
    best = found["doubts"][0]
    assert best["kind"] == "drawing"
    assert set(best["segments"]) == {"wire:7", "wire:10"}
    assert best["changes"][0] == {
        "wire": "10",
        "end": "to",
        "drawn": "rear-lamp.S",
        "instead": "rear-lamp.T",
    }
    assert best["words"].startswith("The loom is not as drawn: two ends are swapped:")
    assert "wire 7 (grey, GY) sits on rear lamp, pin S" in best["words"]
    assert "a look at the rear lamp shows it" in best["words"]


def test_how_a_loom_would_have_to_differ() -> None:
    moved = Redrawn((Move("4", "to", "horn.2"),))
    assert redrawn_words(bike(), moved) == (
        "wire 4 (orange with black tracer, OGBK) sits on horn, pin 2, not on pin 1"
    )


def test_every_kind_of_doubt_has_its_words() -> None:
    by_id = {name: finding(DEAD_HORN, name) for name in ("f1", "f2")}
    here = Supposed(AS_DRAWN, (DEAD,))
    two = Weighed(((here, 1.0),), ("f1", "f2"), 1.0)
    assert " were misread; likeliest then: horn is dead inside" in doubt_words(
        bike(), two, by_id
    )
    several = Weighed(((here, 1.0),), (), 1.0)
    assert doubt_words(bike(), several, by_id) == (
        "there are several faults at once: horn is dead inside"
    )
    moved = Supposed(Redrawn((Move("4", "to", "horn.2"),)), (DEAD,))
    beside = Weighed(((moved, 1.0),), (), 1.0)
    assert doubt_words(bike(), beside, by_id).endswith(
        "; beside that, horn is dead inside"
    )


def test_a_finding_is_said_with_its_test_and_reading() -> None:
    assert said(bike(), finding(DEAD_HORN, "f7")) == (
        "f7 (horn by eye, horn button held at PRESSED, key switch to ON: dead)"
    )
