"""Drawings that differ by one wire."""

import numpy as np
import pytest

from harness.conflict.redrawing import (
    Move,
    Redrawn,
    count_of_redrawings,
    edits_for,
    near_wires,
    redrawings,
    terminal_at,
)
from harness.edits import Cut, Shunt
from harness.network import compile_network
from harness.rig import rig_from
from tests.harness.conflict.cases import bike
from tests.harness.small_looms import HORN, LEAD_OFF


def test_an_end_may_sit_on_each_other_pin_of_its_device_or_be_swapped() -> None:
    # Wire 10 ends at the lamp's pin S, with T and E beside it and a wire on each; its
    # other end is at the plug's b face, with two more cavities of that face.
    found = set(redrawings(bike(), ["10"]))
    lamp = {"rear-lamp.T": ("7", "to"), "rear-lamp.E": ("11", "from")}
    for pin, (other, end) in lamp.items():
        here = Move("10", "to", pin)
        assert Redrawn((here,)) in found
        there = Move(other, "to" if end == "to" else "from", "rear-lamp.S")
        assert Redrawn(tuple(sorted((here, there)))) in found
    faces = {m.terminal for r in found for m in r.moves if m.wire == "10"}
    assert {t for t in faces if t.startswith("tail-plug")} == {
        "tail-plug.1b",
        "tail-plug.3b",
    }


def test_metal_and_the_battery_s_posts_are_left_out() -> None:
    ends = {m.terminal for r in redrawings(bike(), bike().wires) for m in r.moves}
    assert not {t for t in ends if t.startswith(("frame", "battery"))}


def test_no_wire_comes_to_lie_between_a_pin_and_itself() -> None:
    for redrawn in redrawings(bike(), bike().wires):
        ends = {w.id: [w.start, w.end] for w in bike().wires.values()}
        for move in redrawn.moves:
            ends[move.wire][0 if move.end == "from" else 1] = move.terminal
        assert all(start != end for start, end in ends.values()), redrawn


def test_each_drawing_comes_once() -> None:
    found = redrawings(bike(), bike().wires)
    assert len(set(found)) == len(found) == count_of_redrawings(bike())
    assert all(redrawn.segments for redrawn in found)


def test_a_moved_end_is_the_wire_cut_and_joined_elsewhere() -> None:
    rig = rig_from(bike(), HORN)
    net = compile_network(bike(), rig)
    redrawn = Redrawn((Move("4", "to", "horn.2"),))
    k = net.branch_of["wire:4"]
    assert edits_for(bike(), net, rig, redrawn) == [
        Cut(k),
        Shunt(net.node_of["horn.2"], int(net.a[k]), 1.0 / float(net.g_s[k])),
    ]
    assert np.isclose(1.0 / net.g_s[k], bike().wires["4"].resistance_ohm)


def test_an_end_that_hangs_free_in_a_rig_joins_nothing() -> None:
    rig = rig_from(bike(), {**LEAD_OFF, "unplugged": ["horn.2"]})
    net = compile_network(bike(), rig)
    redrawn = Redrawn((Move("4", "to", "horn.2"),))
    made = edits_for(bike(), net, rig, redrawn)
    assert made == [Cut(net.branch_of["wire:4"])]


@pytest.mark.parametrize(("most", "first"), [(2, {"4", "5"}), (3, {"4", "5", "3"})])
def test_the_nearest_wires_come_first(most: int, first: set[str]) -> None:
    assert set(near_wires(bike(), ["horn.1", "horn.2"], most)) == first


def test_wires_end_where_they_are_drawn() -> None:
    wire = bike().wires["4"]
    assert terminal_at(wire, "from") == "horn-button.2"
    assert terminal_at(wire, "to") == "horn.1"
