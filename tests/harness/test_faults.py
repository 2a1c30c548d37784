"""Faults: which there are, how they are named, and what they do to the network."""

from functools import cache

import numpy as np
import pytest

from harness.errors import HarnessError
from harness.faults import (
    BAD_CONTACT_OHM,
    CHAFED_OHM,
    WEAK_EMF_RATIO,
    Fault,
    fault_from,
    nearest_body,
    single_faults,
    variants,
    with_fault,
)
from harness.model import Harness
from harness.network import compile_network
from harness.rig import rig_from
from harness.segments import segments_of
from harness.solver import solve_network
from tests.harness.library import LOOMS, loom
from tests.harness.small_looms import HORN, horn_and_tail


@cache
def bike() -> Harness:
    return horn_and_tail()


def test_there_is_a_fault_for_each_way_and_size() -> None:
    singles = single_faults(bike())
    assert len(set(singles)) == len(singles)
    for segment in segments_of(bike()).values():
        mine = [f for f in singles if f.segment == segment.name]
        assert list(dict.fromkeys(f.mode for f in mine)) == list(segment.modes)
        ohms = [f.ohms for f in mine if f.mode == "resistive"]
        assert ohms == (list(BAD_CONTACT_OHM) if "resistive" in segment.modes else [])


def test_a_bad_contact_is_searched_for_at_the_contract_s_sizes() -> None:
    # Contract section 4: "about 0.3, 3 or 30 ohm, or as finely as the engine likes".
    assert {0.3, 3.0, 30.0} <= set(BAD_CONTACT_OHM)


def test_a_weak_battery_has_low_volts_or_a_high_resistance() -> None:
    battery = segments_of(bike())["battery:battery"]
    ohms = [fault.ohms for fault in variants(battery, "weak")]
    assert ohms[0] == 0.0
    assert len(ohms) > 1
    assert min(ohms[1:]) > 0


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        (("wire:7", "open"), Fault("wire:7", "open")),
        (["wire:7", "resistive"], Fault("wire:7", "resistive", 3.0)),
        (("wire:7", "resistive", 0.5), Fault("wire:7", "resistive", 0.5)),
        (("wire:7", "resistive", "12"), Fault("wire:7", "resistive", 12.0)),
        (("fuse:main-fuse", "blown"), Fault("fuse:main-fuse", "blown")),
        (("battery:battery", "weak"), Fault("battery:battery", "weak", 0.0)),
    ],
)
def test_a_fault_is_read_from_segment_mode_and_ohms(
    given: tuple[object, ...], expected: Fault
) -> None:
    assert fault_from(bike(), given) == expected


@pytest.mark.parametrize(
    ("given", "says"),
    [
        (("wire:99", "open"), "no such segment"),
        (("7", "open"), "no such segment"),
        (("wire:7", "blown"), "use one of: open, resistive, earthed"),
        (("device:horn", "shorted"), "use one of: dead"),
        (("wire:7", "resistive", 0), "not positive"),
        (("wire:7", "resistive", "nan"), "not positive"),
    ],
)
def test_a_fault_that_cannot_be_is_refused(
    given: tuple[object, ...], says: str
) -> None:
    with pytest.raises(HarnessError, match=says):
        fault_from(bike(), given)


def volts(fault: Fault, terminal: str) -> float:
    net = with_fault(bike(), compile_network(bike(), rig_from(bike(), HORN)), fault)
    return float(solve_network(net).volts[net.node_of[terminal]])


def amps(fault: Fault, segment: str) -> float:
    net = with_fault(bike(), compile_network(bike(), rig_from(bike(), HORN)), fault)
    return float(solve_network(net).amps[net.branch_of[segment]])


def test_an_open_wire_carries_nothing() -> None:
    assert volts(Fault("wire:5", "open"), "horn.2") > 12
    assert amps(Fault("wire:5", "open"), "wire:4") == pytest.approx(0.0, abs=1e-9)
    assert volts(Fault("device:horn", "dead"), "horn.2") == pytest.approx(0, abs=0.05)


def test_a_bad_contact_adds_its_ohms_in_line() -> None:
    good = amps(Fault("wire:3", "resistive", 1e-9), "wire:4")
    bad = amps(Fault("wire:3", "resistive", 3.0), "wire:4")
    # 12.6 V over all: what limits the current is the horn's 4.8 ohm and the rest.
    assert 12.6 / good + 3.0 == pytest.approx(12.6 / bad, abs=0.05)


def test_a_chafed_wire_meets_the_body_at_its_middle() -> None:
    net = compile_network(bike(), rig_from(bike(), HORN))
    chafed = with_fault(bike(), net, Fault("wire:6", "earthed"))
    assert len(chafed.nodes) == len(net.nodes) + 1
    assert chafed.g_s[-1] == pytest.approx(1 / CHAFED_OHM)
    assert chafed.node_of["frame.horn"] == chafed.b[-1]
    k = net.branch_of["wire:6"]
    assert chafed.g_s[[k, -2]] == pytest.approx([2 * net.g_s[k]] * 2)


def test_a_weak_battery_gives_fewer_volts_at_rest_or_only_under_load() -> None:
    def at_post(fault: Fault | None, rig: dict[str, object]) -> float:
        net = compile_network(bike(), rig_from(bike(), rig))
        if fault is not None:
            net = with_fault(bike(), net, fault)
        return float(solve_network(net).volts[net.node_of["battery.pos"]])

    flat = Fault("battery:battery", "weak")
    tired = Fault("battery:battery", "weak", 0.6)
    assert at_post(flat, {}) == pytest.approx(12.6 * WEAK_EMF_RATIO)
    assert at_post(tired, {}) == pytest.approx(12.6)
    assert at_post(tired, HORN) < at_post(None, HORN) - 1.0


def test_a_fault_that_is_not_in_the_rig_changes_nothing() -> None:
    net = compile_network(bike(), rig_from(bike(), {}))
    assert with_fault(bike(), net, Fault("switch:key-switch.ON.30-15", "open")) is net


def test_a_wire_chafes_through_to_the_metal_of_its_own_place() -> None:
    h = loom(LOOMS[0])
    # The pilot's wire lies in the headlamp shell; the kill switch's first place with
    # metal is the handlebar.
    assert nearest_body(h, "58-8") == "shell.brackets"
    assert nearest_body(h, "15-4") == "handlebar.button"
    # No body stands in the battery tray: the first body of the file.
    assert nearest_body(h, "30-1") == h.first_body
    assert nearest_body(bike(), "6") == "frame.battery"


def test_faults_put_in_leave_the_network_as_it_was() -> None:
    net = compile_network(bike(), rig_from(bike(), HORN))
    before = (net.g_s.copy(), net.b.copy(), net.emf_v.copy())
    for fault in single_faults(bike()):
        with_fault(bike(), net, fault)
    for one, two in zip(before, (net.g_s, net.b, net.emf_v), strict=True):
        assert np.array_equal(one, two)
