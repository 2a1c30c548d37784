"""Findings that cannot all be true are told, not smoothed over."""

from collections.abc import Mapping
from functools import cache

import pytest

from harness.case import Case
from harness.conflict import conflict_in
from harness.model import Harness
from tests.harness.small_looms import BRAKE, HORN, LEAD_OFF, ON, horn_and_tail

DEAD_HORN = {"rig": HORN, "tool": "eye", "device": "horn", "reads": "dead"}
TAIL = {"rig": ON, "tool": "eye", "device": "rear-lamp.tail"}
LIVE_WITHOUT_BATTERY = {
    "rig": LEAD_OFF,
    "tool": "test-lamp",
    "probe": "horn.1",
    "reads": "lit",
}


@cache
def bike() -> Harness:
    return horn_and_tail()


def case_of(*findings: Mapping[str, object]) -> Case:
    case = Case(bike())
    for finding in findings:
        case.add(finding)
    return case


def test_no_findings_are_no_conflict() -> None:
    assert case_of().conflict() is None
    assert conflict_in(bike(), case_of().belief) is None


def test_findings_of_one_fault_are_no_conflict() -> None:
    assert case_of(DEAD_HORN, TAIL | {"reads": "works"}).conflict() is None


def test_a_finding_that_no_fault_could_give_is_named() -> None:
    # G15 [calc H]: an impossible finding is reported, not renormalised away.
    found = case_of(DEAD_HORN, LIVE_WITHOUT_BATTERY).conflict()
    assert found is not None
    assert found["findings"] == ["f2"]
    assert found["sets"] == [["f2"]]
    assert "cannot all be true" in found["words"]
    assert "f2 (test lamp" in found["words"]
    assert "lit" in found["words"]


def test_an_impossible_finding_alone_is_named() -> None:
    found = case_of(LIVE_WITHOUT_BATTERY).conflict()
    assert found is not None
    assert found["findings"] == ["f1"]


@pytest.mark.parametrize("volts", [60.0, -20.0])
def test_volts_that_no_fault_could_give_are_named(volts: float) -> None:
    finding = {"rig": ON, "tool": "voltmeter", "probe": "horn.1", "reads": volts}
    found = case_of(finding).conflict()
    assert found is not None
    assert found["findings"] == ["f1"]


def test_two_findings_that_deny_each_other_are_both_named() -> None:
    # Dark before the button and lit behind it: one of the two is misread.
    probe = {"rig": HORN, "tool": "test-lamp"}
    found = case_of(
        probe | {"probe": "key-switch.15", "reads": "dark"},
        probe | {"probe": "horn-button.2", "reads": "lit"},
    ).conflict()
    assert found is not None
    assert sorted(found["sets"]) == [["f1"], ["f2"]]
    assert "Or else: finding" in found["words"]


def test_two_faults_at_once_are_a_conflict_of_single_ones() -> None:
    # The horn's return is off and the tail lamp's bulb is gone.
    found = case_of(
        DEAD_HORN,
        {"rig": HORN, "tool": "voltmeter", "probe": "horn.2", "reads": 12.4},
        TAIL | {"reads": "dead"},
        {"rig": ON, "tool": "voltmeter", "probe": "rear-lamp.T", "reads": 12.4},
        {"rig": BRAKE, "tool": "eye", "device": "rear-lamp.stop", "reads": "works"},
    ).conflict()
    assert found is not None
    assert len(found["sets"]) >= 1
    assert "more than one fault" in found["words"]


def test_one_odd_word_that_a_fault_makes_a_little_odd_is_no_conflict() -> None:
    # Dim where the table says lit, with the horn weak: that is a bad contact.
    dim = {"rig": HORN, "tool": "test-lamp", "probe": "horn.1", "reads": "dim"}
    case = case_of(DEAD_HORN | {"reads": "weak"}, dim)
    assert case.conflict() is None
    assert case.faults()[0]["faults"][0][1] == "resistive"


def test_a_conflict_goes_when_the_misread_finding_is_left_out() -> None:
    works = TAIL | {"reads": "works"}
    assert case_of(DEAD_HORN, LIVE_WITHOUT_BATTERY, works).conflict() is not None
    assert case_of(DEAD_HORN, works).conflict() is None
