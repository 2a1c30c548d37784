"""What an explanation draws on."""

import pytest

from harness.advice import survey
from harness.explain.known import Known, of_segment, without
from harness.minutes import surroundings
from harness.segments import Fault
from harness.verdicts import judge
from tests.harness.conflict.cases import Given, bike, weighed
from tests.harness.explain.hunts import LIT_AT_HORN, WORKS
from tests.harness.small_looms import DEAD_HORN, HIGH_RETURN

OPEN = Fault("wire:5", "open")
BULB = Fault("device:rear-lamp.tail", "dead")


def known(*findings: Given) -> Known:
    weighing = weighed(*findings)
    belief = weighing.belief()
    around = surroundings(bike(), belief.findings)
    seen = survey(weighing.sets, belief, around)
    judged = judge(weighing.sets, belief)
    return Known(weighing.sets, belief, judged, seen, None)


def test_findings_are_found_by_name() -> None:
    found = known(DEAD_HORN, WORKS)
    assert found.finding("f2").reads == "works"
    assert found.number_of == {"f1": 0, "f2": 1}
    assert found.h == bike()


def test_a_segment_is_asked_about_as_parted() -> None:
    found = known(DEAD_HORN)
    assert found.cut("wire:5") == (OPEN,)
    assert found.cut("fuse:main-fuse") == (Fault("fuse:main-fuse", "blown"),)
    assert found.cut("device:horn") == (Fault("device:horn", "dead"),)


def test_a_finding_is_judged_beside_nothing_where_that_explains_it() -> None:
    found = known(DEAD_HORN, WORKS, LIT_AT_HORN, HIGH_RETURN)
    assert found.beside("f3") == ()
    assert found.beside("f4") == (OPEN,)


def test_the_likeliest_way_for_a_segment_to_be_bad() -> None:
    found = known(DEAD_HORN, WORKS, LIT_AT_HORN, HIGH_RETURN)
    faults, p = found.likeliest("wire:5")
    assert faults == (OPEN,)
    assert p == pytest.approx(0.9, abs=0.1)
    assert p <= found.belief.by_segment()["wire:5"] + 1e-9


def test_what_a_test_shows_is_the_solver_s() -> None:
    found = known(DEAD_HORN)
    volts = weighed(HIGH_RETURN).findings[0].test
    assert found.shown(volts, ()) == pytest.approx(0.02, abs=0.02)
    assert found.shown(volts, (OPEN,)) == pytest.approx(12.6, abs=0.1)


def test_a_set_less_one_segment() -> None:
    assert without((BULB, OPEN), "wire:5") == (BULB,)
    assert of_segment((BULB, OPEN), "wire:5") == (OPEN,)
    assert of_segment((BULB,), "wire:5") == ()
