"""What each fault is in elementary edits of a network."""

from functools import cache

import pytest

from harness.circuit import Network
from harness.edits import (
    CHAFED_OHM,
    WEAK_EMF_RATIO,
    Cut,
    Edit,
    Held,
    Series,
    Shunt,
    edits,
    middle_of,
)
from harness.faults import Fault, single_faults
from harness.model import Harness
from harness.network import compile_network
from harness.rig import rig_from
from tests.harness.faulty_looms import changeover, shut, side_by_side
from tests.harness.library import EVERY_LOOM, Rig, loom
from tests.harness.small_looms import relay_and_charger


@cache
def heaters() -> Harness:
    return side_by_side()


def net_of(h: Harness, rig: Rig) -> Network:
    return compile_network(h, rig_from(h, rig))


def edited(h: Harness, rig: Rig, fault: Fault) -> tuple[Edit, ...]:
    return edits(h, net_of(h, rig), fault)


def test_whatever_opens_is_one_cut() -> None:
    net = net_of(heaters(), {})
    for fault in (
        Fault("wire:4", "open"),
        Fault("fuse:fuse", "blown"),
        Fault("device:heater-left", "dead"),
        Fault("battery:battery", "dead"),
    ):
        k = net.branch_of[fault.segment]
        assert edits(heaters(), net, fault) == (Cut(k),)


def test_a_bad_contact_and_a_weak_battery_stand_in_line() -> None:
    net = net_of(heaters(), {})
    wire, battery = net.branch_of["wire:4"], net.branch_of["battery:battery"]
    assert edits(heaters(), net, Fault("wire:4", "resistive", 3.0)) == (
        Series(wire, ohm=3.0),
    )
    assert edits(heaters(), net, Fault("battery:battery", "weak")) == (
        Series(battery, emf_ratio=WEAK_EMF_RATIO),
    )
    assert edits(heaters(), net, Fault("battery:battery", "weak", 0.6)) == (
        Series(battery, ohm=0.6),
    )


def test_a_chafed_wire_is_joined_at_its_middle() -> None:
    net = net_of(heaters(), {})
    four, five = net.branch_of["wire:4"], net.branch_of["wire:5"]
    frame = net.node_of["frame.left"]
    assert edits(heaters(), net, Fault("wire:4", "earthed")) == (
        Shunt(middle_of(four), frame, CHAFED_OHM),
    )
    crossed = Fault("wire:4", "crossed", other="wire:5")
    assert edits(heaters(), net, crossed) == (
        Shunt(middle_of(four), middle_of(five), CHAFED_OHM),
    )


def test_swapped_cavities_are_two_contacts_for_two() -> None:
    net = net_of(heaters(), {})
    swapped = Fault("plug:plug.1", "crossed", other="plug:plug.2")
    node = net.node_of
    there, back, *cuts = edits(heaters(), net, swapped)
    assert isinstance(there, Shunt)
    assert isinstance(back, Shunt)
    assert (there.one, there.other) == (node["plug.1a"], node["plug.2b"])
    assert (back.one, back.other) == (node["plug.2a"], node["plug.1b"])
    assert [there.ohm, back.ohm] == pytest.approx([0.005, 0.005])
    assert cuts == [
        Cut(net.branch_of["plug:plug.1"]),
        Cut(net.branch_of["plug:plug.2"]),
    ]


def test_a_stuck_relay_contact_is_held_and_a_stuck_switch_bridged() -> None:
    h = changeover()
    net = net_of(h, {})
    stuck = Fault("relay:relay.contact", "stuck")
    assert edits(h, net, stuck) == (Held(net.branch_of[stuck.segment]),)
    node = net.node_of
    assert edits(h, net, Fault("switch:switch.IN.1-2", "stuck")) == (
        Shunt(node["switch.1"], node["switch.2"], 0.01),
    )
    assert edited(h, shut("switch"), Fault("switch:switch.IN.1-2", "stuck")) == ()


def test_a_shorted_device_has_a_touch_across_its_ends() -> None:
    h = relay_and_charger()
    for name, pins in (
        ("device:head", "12"),
        ("relay:relay.coil", ("86", "85")),
        ("diode:diode", "ak"),
        ("charger:alternator", ("pos", "neg")),
    ):
        fault = Fault(name, "shorted")
        owner = name.partition(":")[2].partition(".")[0]
        node = net_of(h, {}).node_of
        one, other = (node[f"{owner}.{pin}"] for pin in pins)
        assert edited(h, {}, fault) == (Shunt(one, other, CHAFED_OHM),)
        assert edited(h, {"removed": [owner]}, fault) == ()


def test_a_contact_that_only_parts_when_moved_is_no_edit() -> None:
    moved = [f for f in single_faults(heaters()) if f.moved]
    assert moved
    assert all(edited(heaters(), {}, fault) == () for fault in moved)


@pytest.mark.parametrize("file", EVERY_LOOM)
def test_every_fault_at_rest_is_at_most_four_edits_joins_before_cuts(file: str) -> None:
    h = loom(file)
    net = net_of(h, {})
    for fault in single_faults(h):
        made = edits(h, net, fault)
        assert len(made) <= 4
        cuts = [isinstance(edit, Cut) for edit in made]
        assert cuts == sorted(cuts), fault
