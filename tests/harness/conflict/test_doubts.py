"""Findings that cannot all be true are told, not smoothed over."""

import pytest

from harness.conflict.doubts import DOUBTED, conflict_in, with_one_fault
from tests.harness.conflict.cases import (
    DARK_BEFORE,
    LIT_BEHIND,
    LIVE_WITHOUT_BATTERY,
    TAIL,
    Given,
    bike,
    weighed,
)
from tests.harness.small_looms import BRAKE, DEAD_HORN, HORN, ON

WORKS: Given = {**TAIL, "reads": "works"}
TWO_FAULTS: tuple[Given, ...] = (
    DEAD_HORN,
    {"rig": HORN, "tool": "voltmeter", "probe": "horn.2", "reads": 12.4},
    {**TAIL, "reads": "dead"},
    {"rig": ON, "tool": "voltmeter", "probe": "rear-lamp.T", "reads": 12.4},
    {"rig": BRAKE, "tool": "eye", "device": "rear-lamp.stop", "reads": "works"},
)


def sets_of(*findings: Given) -> tuple[tuple[str, ...], ...] | None:
    found = conflict_in(bike(), weighed(*findings).belief())
    return found.sets if found else None


def test_no_findings_are_no_conflict() -> None:
    assert sets_of() is None


def test_findings_of_one_fault_are_no_conflict() -> None:
    assert sets_of(DEAD_HORN, WORKS) is None


def test_a_finding_that_no_fault_could_give_is_named() -> None:
    # G15 [calc H]: an impossible finding is reported, not renormalised away.
    assert sets_of(DEAD_HORN, LIVE_WITHOUT_BATTERY) == (("f2",),)
    assert sets_of(LIVE_WITHOUT_BATTERY) == (("f1",),)


@pytest.mark.parametrize("volts", [60.0, -20.0])
def test_volts_that_no_fault_could_give_are_named(volts: float) -> None:
    finding = {"rig": ON, "tool": "voltmeter", "probe": "horn.1", "reads": volts}
    assert sets_of(finding) == (("f1",),)


def test_two_findings_that_deny_each_other_are_both_named() -> None:
    # Dark before the button and lit behind it: one of the two is misread.
    found = conflict_in(bike(), weighed(DARK_BEFORE, LIT_BEHIND).belief())
    assert found is not None
    assert sorted(found.sets) == [("f1",), ("f2",)]
    assert set(found.findings) == {"f1", "f2"}
    assert found.probability >= DOUBTED


def test_the_likelier_doubt_comes_first_and_says_what_stands_then() -> None:
    belief = weighed(DEAD_HORN, DARK_BEFORE, LIT_BEHIND, WORKS).belief()
    found = conflict_in(bike(), belief)
    assert found is not None
    assert [d.probability for d in found.doubts] == sorted(
        (d.probability for d in found.doubts), reverse=True
    )
    # Were the dark lamp misread, the horn or its return is bad, the feed is not.
    stands = {doubt.findings: doubt.standing[0].segment for doubt in found.doubts}
    assert stands["f2",] == "device:horn"
    assert stands["f3",] in {"wire:3", "switch:key-switch.ON.30-15"}


def test_two_faults_at_once_explain_what_one_cannot_and_nothing_is_doubted() -> None:
    # The horn's return is off and the tail lamp's bulb is gone.
    belief = weighed(*TWO_FAULTS).belief()
    assert conflict_in(bike(), belief) is None
    alone = with_one_fault(bike(), belief)
    assert alone is not None
    assert all(doubt.findings for doubt in alone.doubts)
    assert alone.probability < 0.2


def test_one_fault_that_explains_everything_needs_no_doubt() -> None:
    assert with_one_fault(bike(), weighed(DEAD_HORN, WORKS).belief()) is None


def test_one_odd_word_that_a_fault_makes_a_little_odd_is_no_conflict() -> None:
    # Dim where the table says lit, with the horn weak: that is a bad contact.
    dim = {"rig": HORN, "tool": "test-lamp", "probe": "horn.1", "reads": "dim"}
    weighing = weighed({**DEAD_HORN, "reads": "weak"}, dim)
    assert conflict_in(bike(), weighing.belief()) is None


def test_a_conflict_goes_when_the_misread_finding_is_left_out() -> None:
    assert sets_of(DEAD_HORN, LIVE_WITHOUT_BATTERY, WORKS) is not None
    assert sets_of(DEAD_HORN, WORKS) is None


def test_the_belief_stays_as_it_is_with_a_conflict() -> None:
    belief = weighed(DEAD_HORN, LIVE_WITHOUT_BATTERY).belief()
    before = belief.probability.copy()
    assert conflict_in(bike(), belief) is not None
    assert (belief.probability == before).all()
    assert before.sum() + belief.unweighed == pytest.approx(1.0)
