"""Sets that an estimate has overlooked are found before a finding is doubted."""

import numpy as np

from harness.belief import Belief, sorted_set
from harness.conflict.slips import are_slips
from harness.consumers import consumers
from harness.findings import Finding, Test
from harness.model import Harness
from harness.overlooked import MOST_FAULTS, MOST_KEPT, overlooked
from harness.priors import log_priors
from harness.rehearsal.answers import answer
from harness.rig import rig_from
from harness.segments import Fault
from harness.sets import FaultSet
from harness.weighing import sets_for
from tests.harness.conflict.cases import bike
from tests.harness.library import loom
from tests.harness.small_looms import HORN, ON

OTTER = "tarnholm-otter-175.toml"
HEAD = {"light-switch": "HEAD"}
# The open joint takes the headlamp's load off the bad contact before it: neither fault
# by itself reads as both do.
JOINT = Fault("joint:bar-snap.1", "open")
CONTACT = Fault("switch:light-switch.HEAD.30-56", "resistive", 30.0)


def of_singles(h: Harness, findings: list[Finding]) -> Belief:
    """Return a belief that has weighed single faults only."""
    sets = sets_for(h)
    singles: list[FaultSet] = [
        () if fault is None else (fault,) for fault in sets.predictions.faults
    ]
    logs = sets.log_likelihood(findings, singles)
    return Belief(tuple(singles), log_priors(h), tuple(findings), logs)


def answered(h: Harness, tests: list[Test], faults: FaultSet) -> list[Finding]:
    shown = sets_for(h).shown(tests, [faults])[:, 0].tolist()
    return [
        answer(h, test, value, id_=f"f{number}")
        for number, (test, value) in enumerate(zip(tests, shown, strict=True), start=1)
    ]


def found_for(h: Harness, findings: list[Finding]) -> list[FaultSet]:
    belief = of_singles(h, findings)
    slips = are_slips(h, belief.findings, belief.log_likelihood)
    return overlooked(sets_for(h), belief, slips)


def test_two_faults_that_change_what_each_other_reads_are_found() -> None:
    h = loom(OTTER)
    rig, body = rig_from(h, HEAD), "frame.battery"
    looks = [Test(rig=c.rig, tool="eye", device=c.device) for c in consumers(h)]
    lamps = [
        Test(rig=rig, tool="test-lamp", probe=probe, clip=body)
        for probe in ("light-switch.56", "bar-snap.1")
    ]
    volts = [
        Test(rig=rig, tool="voltmeter", probe=probe, clip=clip)
        for probe, clip in (
            ("bar-snap.2", "battery.neg"),
            ("light-switch.30", "light-switch.56"),
        )
    ]
    tests = [*looks, *lamps, *volts]
    pair = sorted_set(JOINT, CONTACT)
    found = found_for(h, answered(h, tests, pair))
    assert pair in found
    assert len(found) <= MOST_KEPT


def test_where_nothing_is_doubted_nothing_is_looked_for() -> None:
    h = bike()
    dead = [Test(rig=rig_from(h, HORN), tool="eye", device="horn")]
    belief = of_singles(h, answered(h, dead, (Fault("device:horn", "dead"),)))
    none = np.zeros_like(belief.log_likelihood, dtype=np.bool_)
    assert overlooked(sets_for(h), belief, none) == []


def test_what_is_found_is_new_and_never_bad_twice_in_one_place() -> None:
    h = bike()
    tests = [
        Test(rig=rig_from(h, HORN), tool="eye", device="horn"),
        Test(rig=rig_from(h, ON), tool="eye", device="rear-lamp.tail"),
        Test(
            rig=rig_from(h, HORN), tool="voltmeter", probe="horn.2", clip="frame.horn"
        ),
        Test(
            rig=rig_from(h, ON),
            tool="voltmeter",
            probe="rear-lamp.T",
            clip="frame.tail",
        ),
    ]
    pair = sorted_set(Fault("wire:5", "open"), Fault("device:rear-lamp.tail", "dead"))
    found = found_for(h, answered(h, tests, pair))
    assert pair in found
    for faults in found:
        names = [name for fault in faults for name in fault.segments]
        assert len(set(names)) == len(names)
        assert 2 <= len(faults) <= MOST_FAULTS
        assert not any(fault.moved for fault in faults)
