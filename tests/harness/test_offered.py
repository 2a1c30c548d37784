"""The tests that can be made in a rig, and what they would show."""

from functools import cache

import pytest

from harness.consumers import consumers, ordinary_rigs
from harness.faults import Fault
from harness.findings import Finding, Test, finding_from
from harness.model import Harness
from harness.network import compile_network
from harness.offered import Block, offered_for
from harness.predictions import lead_off
from harness.rig import rig_from
from harness.sets import FaultSet
from harness.weighing import sets_for
from harness.words import as_json_test
from tests.harness.library import LOOMS, Rig, loom
from tests.harness.small_looms import HORN, LEAD_OFF, ON, horn_and_tail


@cache
def bike() -> Harness:
    return horn_and_tail()


def blocks(rig: Rig) -> list[Block]:
    return list(offered_for(bike()).blocks(rig_from(bike(), rig)))


def as_finding(h: Harness, test: Test) -> Finding:
    """Take a test with some reading; it must not be refused."""
    words = {"test-lamp": "lit", "voltmeter": 0.0, "ohmmeter": "open", "eye": "works"}
    reads = "intact" if test.device.endswith("fuse") else words[test.tool]
    return finding_from(h, dict(as_json_test(test)) | {"reads": reads}, id_="x")


def test_with_the_battery_on_lamp_meter_and_eye_and_without_it_the_ohmmeter() -> None:
    assert [b.tool for b in blocks({})] == ["test-lamp", "voltmeter", "eye"]
    assert [b.tool for b in blocks(HORN)] == ["test-lamp", "voltmeter", "eye"]
    assert [b.tool for b in blocks(LEAD_OFF)] == ["ohmmeter"]


def test_the_eye_looks_at_fuses_at_rest_and_at_what_should_work() -> None:
    fuses = next(b for b in blocks({}) if b.tool == "eye")
    assert fuses.devices == ("main-fuse",)
    for rig in (ON, HORN):
        seen = next(b for b in blocks(rig) if b.tool == "eye")
        where = rig_from(bike(), rig)
        assert set(seen.devices) == {
            c.device for c in consumers(bike()) if c.rig == where
        }


@pytest.mark.parametrize("file", LOOMS)
def test_everything_offered_can_be_taken_as_a_finding(file: str) -> None:
    h = loom(file)
    for rig in (*ordinary_rigs(h)[:4], lead_off(h)):
        for block in offered_for(h).blocks(rig):
            for test in block.tests[::7]:
                assert as_finding(h, test).test == test


def test_every_point_can_be_probed_against_the_body() -> None:
    net = compile_network(bike(), rig_from(bike(), HORN))
    body = net.node_of["frame.battery"]
    terminals = {net.node_of[t] for t in bike().terminals} - {body}
    for tool in ("test-lamp", "voltmeter"):
        block = next(b for b in blocks(HORN) if b.tool == tool)
        probed = {
            net.node_of[probe]
            for probe, clip in block.pairs
            if net.node_of[clip] == body
        }
        assert terminals <= probed


def test_a_meter_goes_across_the_contacts_that_are_shut() -> None:
    pairs = next(b for b in blocks(HORN) if b.tool == "voltmeter").pairs
    assert ("horn-button.1", "horn-button.2") in pairs
    assert ("key-switch.30", "key-switch.15") in pairs
    assert ("tail-plug.1a", "tail-plug.1b") in pairs
    at_rest = next(b for b in blocks({}) if b.tool == "voltmeter").pairs
    assert ("horn-button.1", "horn-button.2") not in at_rest


def test_the_ohmmeter_is_never_put_across_the_battery() -> None:
    (block,) = blocks(LEAD_OFF)
    assert block.pairs
    for pair in block.pairs:
        assert not {"battery.pos", "battery.neg"} & set(pair)


FAULTS: tuple[FaultSet, ...] = (
    (),
    (Fault("wire:3", "open"),),
    (Fault("wire:6", "earthed"),),
    (Fault("wire:3", "resistive", 3.0), Fault("wire:8", "open")),
)


@pytest.mark.parametrize("rig", [{}, ON, HORN, LEAD_OFF], ids=str)
def test_what_they_show_is_worked_out_for_the_faults_asked_for(rig: Rig) -> None:
    for block in offered_for(bike()).blocks(rig_from(bike(), rig)):
        some = block.read(sets_for(bike()), FAULTS[:2])
        every = block.read(sets_for(bike()), FAULTS)
        assert every.shape == (len(FAULTS), len(block.tests))
        # What is known already is not worked out again.
        assert every[:2].tolist() == some.tolist()
        exact = sets_for(bike()).shown(block.tests[::5], FAULTS).T
        # Kept in single precision: half a millivolt at most.
        assert every[:, ::5] == pytest.approx(exact, rel=1e-6, abs=5e-4)


def test_no_test_is_offered_twice_in_a_rig() -> None:
    for rig in (ON, HORN, LEAD_OFF):
        for block in blocks(rig):
            assert len(set(block.tests)) == len(block.tests)


def test_what_is_offered_is_put_together_once() -> None:
    one, two = (offered_for(bike()).blocks(rig_from(bike(), ON)) for _ in range(2))
    assert all(a is b for a, b in zip(one, two, strict=True))
