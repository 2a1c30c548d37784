"""A single fault as a rank-one change, against the network with the fault put in."""

from functools import cache

import numpy as np
import pytest

from harness.bases import LEAK_OHM, Base, factorise
from harness.circuit import BoolArray, FloatArray
from harness.faults import Fault, single_faults, with_fault
from harness.model import Harness
from harness.network import compile_network
from harness.ports import changes
from harness.rig import rig_from
from harness.solver import anchors, islands, solve_linear, solve_network
from tests.harness.library import Rig
from tests.harness.small_looms import BRAKE, HORN, ON, horn_and_tail


@cache
def bike() -> Harness:
    return horn_and_tail()


def base_in(rig: Rig) -> Base:
    net = compile_network(bike(), rig_from(bike(), rig))
    return factorise(net, solve_network(net).on.tobytes())


def with_fixed_filaments(base: Base, fault: Fault) -> tuple[FloatArray, BoolArray]:
    """Solve the faulty network with its filaments as in the healthy one."""
    net = with_fault(bike(), base.net, fault)
    k = base.net.branch_of.get(fault.segment, -1)
    g_s = net.g_s.copy()
    same = np.arange(len(base.g_s)) != k
    g_s[: len(base.g_s)][same] = base.g_s[same]
    on = np.append(base.on, np.ones(len(g_s) - len(base.on), dtype=bool))
    g_s = np.where(on, g_s, 0.0)
    labels = islands(net, on)
    volts = solve_linear(net, g_s, anchors(net, labels))
    count = len(base.net.nodes)
    return volts[:count], (labels == labels[net.reference])[:count]


@pytest.mark.parametrize("rig", [{}, ON, HORN, BRAKE])
def test_every_fault_moves_the_volts_as_if_put_in(rig: Rig) -> None:
    base = base_in(rig)
    faults = [f for f in single_faults(bike()) if f.mode != "dead"]
    found = changes(bike(), base, faults)
    for row, fault in enumerate(faults):
        volts, joined = with_fixed_filaments(base, fault)
        away = np.abs(found.volts[row] - volts)[joined]
        assert float(away.max()) < 1e-5, fault


def test_a_fault_that_is_not_in_the_network_changes_nothing() -> None:
    base = base_in(ON)
    other = Fault("switch:key-switch.PARK.30-57", "open")
    found = changes(bike(), base, [other])
    assert found.branch.tolist() == [-1]
    assert found.kappa_s.tolist() == [0.0]
    assert found.volts[0] == pytest.approx(base.volts)
    assert found.intact.all()


def test_a_broken_filament_is_marked_and_no_other() -> None:
    base = base_in(BRAKE)
    faults = [Fault("device:rear-lamp.stop", "dead"), Fault("wire:10", "open")]
    names = [base.net.segments[k] for k in base.lamps]
    intact = changes(bike(), base, faults).intact
    assert dict(zip(names, intact[0].tolist(), strict=True)) == {
        "device:rear-lamp.tail": True,
        "device:rear-lamp.stop": False,
    }
    assert intact[1].all()


def test_opening_the_only_way_cuts_an_island_off() -> None:
    # Nothing else joins the horn's return to the frame but its own wire and the horn.
    base = base_in(ON)
    found = changes(bike(), base, [Fault("wire:5", "open")])
    assert found.kappa_s.tolist() == [-LEAK_OHM]
    cut_off = np.flatnonzero(np.abs(found.z_ohm[0]) > 0.5)
    names = {base.net.nodes[k] for k in cut_off}
    assert names == {"horn.1", "horn.2", "horn-button.2"}


def test_the_branch_concerned_says_what_it_has_become() -> None:
    base = base_in(HORN)
    faults = [
        Fault("wire:3", "resistive", 3.0),
        Fault("wire:3", "open"),
        Fault("battery:battery", "weak"),
        Fault("battery:battery", "weak", 0.6),
    ]
    found = changes(bike(), base, faults)
    wire = float(base.net.g_s[base.net.branch_of["wire:3"]])
    assert found.branch_s[:2] == pytest.approx([1 / (1 / wire + 3.0), 0.0])
    assert found.branch_emf_v[2:] == pytest.approx([12.6 * 0.8, 12.6])
    assert found.branch_s[3] == pytest.approx(1 / 0.62)
