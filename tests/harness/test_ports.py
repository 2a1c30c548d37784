"""Faults as low-rank changes of an inverse, against the network solved anew."""

from dataclasses import dataclass
from functools import cache
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harness.bases import Base, factorise
from harness.circuit import Branch, Circuit, FloatArray, IntArray, Network
from harness.edit_arrays import EditArrays, arrays_of, edit_arrays
from harness.edits import Cut, Edit, Series, Shunt, middle_of
from harness.faults import Fault, _edited, single_faults, with_faults
from harness.model import Harness
from harness.network import compile_network
from harness.ports import NO_OTHER_WAY, Changes, changes
from harness.rig import rig_from
from harness.sets import FaultSet
from harness.sights import Sight
from harness.solver import Solution, anchors, islands, solve_linear, solve_network
from tests.harness.direct import some_sets
from tests.harness.library import EVERY_LOOM, Rig, loom
from tests.harness.small_looms import BRAKE, HORN, ON, horn_and_tail


@cache
def bike() -> Harness:
    return horn_and_tail()


def base_in(rig: Rig) -> Base:
    net = compile_network(bike(), rig_from(bike(), rig))
    return factorise(net, solve_network(net).on.tobytes())


def made(base: Base, sets: list[FaultSet]) -> EditArrays:
    """Return the edits of sets of faults of the small bike."""
    every = list(single_faults(bike()))
    place = {fault: k for k, fault in enumerate(every, start=1)}
    members = np.zeros((len(sets), max(len(s) for s in sets)), dtype=np.intp)
    for row, faults in enumerate(sets):
        members[row, : len(faults)] = [place[fault] for fault in faults]
    return edit_arrays(bike(), base.net, [None, *every]).together(members)


def found_in(base: Base, sets: list[FaultSet]) -> Changes:
    return changes(Sight.of(base), made(base, sets))


# --- Any circuit, any edits --------------------------------------------------------


@dataclass(frozen=True)
class Patched:
    """A circuit that may fall apart, and what is done to it."""

    net: Network
    edits: tuple[Edit, ...]

    def base(self) -> Base:
        return factorise(self.net, solve_network(self.net).on.tobytes())

    def changed(self) -> tuple[Base, Changes]:
        base = self.base()
        return base, changes(Sight.of(base), arrays_of(self.net, [self.edits]))

    def anew(self) -> tuple[Network, Solution]:
        net = self.net
        for edit in self.edits:
            net = _edited(net, edit)
        return net, solve_network(net)


OHMS = st.floats(min_value=0.01, max_value=100)
VOLTS = st.sampled_from([0.0, 0.0, 0.0, 6.0, 12.6, -3.0])


@st.composite
def circuits(draw: st.DrawFn) -> Network:
    """Draw resistances and sources at random: one piece, or several."""
    nodes = draw(st.integers(2, 8))
    circuit = Circuit(reference="0", extra_nodes=[str(k) for k in range(nodes)])
    for k in range(draw(st.integers(1, 12))):
        a = draw(st.integers(0, nodes - 1))
        b = draw(st.integers(0, nodes - 2))
        ends = str(a), str(b + (b >= a))
        circuit.add(Branch(f"r{k}", *ends, draw(OHMS), emf_v=draw(VOLTS)))
    return circuit.network()


@st.composite
def patched(draw: st.DrawFn) -> Patched:
    """Draw a circuit and edits of it, each branch touched once: joins, then cuts."""
    net = draw(circuits())
    free = draw(st.permutations(range(len(net.segments))))
    node = st.integers(0, len(net.nodes) - 1)
    joins: list[Edit] = []
    bad: list[Edit] = []
    cuts: list[Edit] = []
    ways = draw(st.lists(st.integers(0, 4), max_size=min(4, len(free))))
    for k, how in zip(free, ways, strict=False):
        ohm = draw(OHMS)
        # Only a wire has a middle, and a wire is no source.
        if how == 0 or (how == 1 and net.emf_v[k] != 0.0):
            joins.append(Shunt(draw(node), draw(node), ohm))
        elif how == 1:
            joins.append(Shunt(middle_of(k), draw(node), ohm))
        elif how == 2:
            bad.append(Series(k, ohm, draw(st.sampled_from([0.8, 1.0]))))
        else:
            cuts.append(Cut(k))
    return Patched(net, (*joins, *bad, *cuts))


def same_partition(one: IntArray, other: IntArray) -> bool:
    return bool(
        np.array_equal(one[:, None] == one[None, :], other[:, None] == other[None, :])
    )


@settings(max_examples=200, deadline=None)
@given(patched())
def test_any_edits_give_the_volts_and_the_islands_of_the_network_solved_anew(
    case: Patched,
) -> None:
    base, change = case.changed()
    net, solution = case.anew()
    count = len(base.net.nodes)
    labels = islands(net, solution.on)[:count]
    # An edge that is cut stays as a stub and joins nothing.
    assert same_partition(change.island[0], labels)
    for node in range(count):
        mates = np.flatnonzero(labels == labels[node])
        one = change.volts[0, mates] - change.volts[0, node]
        other = solution.volts[mates] - solution.volts[node]
        assert one == pytest.approx(other, rel=1e-6, abs=1e-5)
    reached = labels == labels[base.net.reference]
    assert change.volts[0, reached] == pytest.approx(
        solution.volts[:count][reached], rel=1e-6, abs=1e-6
    )


@settings(max_examples=100, deadline=None)
@given(patched(), st.data())
def test_any_edits_give_the_resistance_between_any_two_points(
    case: Patched, data: st.DataObject
) -> None:
    base, change = case.changed()
    net, solution = case.anew()
    labels = islands(net, solution.on)
    pairs = [
        (a, b)
        for a, b in combinations(range(len(base.net.nodes)), 2)
        if labels[a] == labels[b]
    ]
    if not pairs:
        return
    a, b = data.draw(st.sampled_from(pairs))
    z = change.z_ohm[0, :, a] - change.z_ohm[0, :, b]
    near = base.near_ohm
    ohm = near[a, a] + near[b, b] - 2 * near[a, b] - float(change.kappa_s[0] @ z**2)
    # An ampere through one ohm and the network, by a source of its own.
    driven = Circuit(reference="0", extra_nodes=[str(k) for k in range(len(net.nodes))])
    for k in range(len(net.segments)):
        if net.a[k] != net.b[k]:
            ends = str(net.a[k]), str(net.b[k])
            driven.add(Branch(f"r{k}", *ends, 1.0 / float(net.g_s[k])))
    driven.add_source(str(a), str(b), volts=1.0, ohm=1.0, segment="meter")
    measured = solve_network(driven.network())
    amps = -float(measured.amps[-1])
    assert ohm == pytest.approx(1.0 / amps - 1.0, rel=1e-6, abs=1e-7)


@settings(max_examples=40, deadline=None)
@given(st.lists(patched(), min_size=2, max_size=4), st.data())
def test_edits_in_rows_side_by_side_do_not_touch_each_other(
    cases: list[Patched], data: st.DataObject
) -> None:
    net = cases[0].net
    base = cases[0].base()
    rows = [case.edits for case in cases if fits(case, net)]
    together = changes(Sight.of(base), arrays_of(net, rows))
    row = data.draw(st.integers(0, len(rows) - 1))
    alone = changes(Sight.of(base), arrays_of(net, [rows[row]]))
    assert together.volts[row] == pytest.approx(alone.volts[0], rel=1e-9, abs=1e-9)
    assert same_partition(together.island[row], alone.island[0])


def fits(case: Patched, net: Network) -> bool:
    """Tell whether edits drawn for one circuit can be made on another."""
    points = []
    for edit in case.edits:
        match edit:
            case Shunt(one, other):
                points += [one, other]
            case Series(k) | Cut(k):
                points.append(middle_of(k))
    most_nodes, most_branches = len(net.nodes), len(net.segments)
    return all(-most_branches <= point < most_nodes for point in points)


# --- Faults of a bike --------------------------------------------------------------


def with_fixed_filaments(base: Base, faults: FaultSet) -> tuple[FloatArray, IntArray]:
    """Solve the faulty network with its filaments as in the healthy one."""
    net = with_faults(bike(), base.net, faults)
    g_s = net.g_s.copy()
    g_s[base.lamps] = base.g_s[base.lamps]
    on = np.append(base.on, np.ones(len(g_s) - len(base.on), dtype=bool))
    g_s = np.where(on, g_s, 0.0)
    labels = islands(net, on)
    volts = solve_linear(net, g_s, anchors(net, labels))
    count = len(base.net.nodes)
    return volts[:count], labels[:count]


@pytest.mark.parametrize("rig", [{}, ON, HORN, BRAKE])
def test_every_single_fault_and_some_sets_move_the_volts_as_if_put_in(rig: Rig) -> None:
    base = base_in(rig)
    sets: list[FaultSet] = [(fault,) for fault in single_faults(bike())]
    sets += some_sets(bike(), 80, 2, 3) + some_sets(bike(), 40, 3, 4)
    found = found_in(base, sets)
    for row, faults in enumerate(sets):
        volts, labels = with_fixed_filaments(base, faults)
        joined = labels == labels[base.net.reference]
        assert same_partition(found.island[row], labels), faults
        away = np.abs(found.volts[row] - volts)[joined]
        assert float(away.max()) < 1e-8, faults


def test_a_fault_that_is_not_in_the_network_changes_nothing() -> None:
    base = base_in(ON)
    other = Fault("switch:key-switch.PARK.30-57", "open")
    found = found_in(base, [(other,)])
    assert found.branch.shape == (1, 0)
    assert found.kappa_s.shape == (1, 0)
    assert found.volts[0] == pytest.approx(base.volts)
    assert found.intact.all()


def test_a_broken_filament_is_marked_and_no_other() -> None:
    base = base_in(BRAKE)
    dead = Fault("device:rear-lamp.stop", "dead")
    cut, shorted = Fault("wire:10", "open"), Fault("device:rear-lamp.stop", "shorted")
    names = [base.net.segments[k] for k in base.lamps]
    intact = found_in(base, [(dead,), (cut,), (shorted,), (cut, dead)]).intact
    of_stop = names.index("device:rear-lamp.stop")
    assert intact[:, of_stop].tolist() == [False, True, True, False]
    assert intact[:, 1 - of_stop].all()


def test_opening_the_only_way_cuts_an_island_off() -> None:
    # Nothing else joins the horn's return to the frame but its own wire and the horn.
    base = base_in(ON)
    found = found_in(base, [(Fault("wire:5", "open"),)])
    own = found.island[0] != found.island[0, base.net.reference]
    fresh = own & (base.island == base.island[base.net.reference])
    names = {base.net.nodes[k] for k in np.flatnonzero(fresh)}
    assert names == {"horn.1", "horn.2", "horn-button.2"}
    # The inverse stands as it was: the cut has no term, and no volts move in it.
    assert not found.kappa_s.any()


def test_two_cuts_leave_the_stretch_between_them_by_itself() -> None:
    base = base_in(HORN)
    cut = found_in(base, [(Fault("wire:3", "open"), Fault("wire:5", "open"))])
    node = base.net.node_of
    label = {name: int(cut.island[0, node[name]]) for name in node}
    between = {"horn-button.1", "horn-button.2", "horn.1", "horn.2"}
    assert len({label[name] for name in between}) == 1
    assert {name for name in node if label[name] == label["horn.1"]} == between


def test_two_cuts_in_ways_side_by_side_cut_off_what_neither_does_alone() -> None:
    circuit = Circuit(reference="0")
    circuit.add_source("0", "top", volts=-12.0, ohm=1.0)
    circuit.add_resistor("top", "far", ohm=2.0, segment="one way")
    circuit.add_resistor("top", "far", ohm=3.0, segment="other way")
    net = circuit.network()
    base = factorise(net, solve_network(net).on.tobytes())
    one, other = net.branch_of["one way"], net.branch_of["other way"]
    rows: list[list[Edit]] = [[Cut(one)], [Cut(other)], [Cut(one), Cut(other)]]
    found = changes(Sight.of(base), arrays_of(net, rows))
    far, top = net.node_of["far"], net.node_of["top"]
    apart = found.island[:, far] != found.island[:, top]
    assert apart.tolist() == [False, False, True]
    assert found.volts[:2, far] == pytest.approx([12.0, 12.0])


def test_the_branch_concerned_says_what_it_has_become() -> None:
    base = base_in(HORN)
    faults = [
        Fault("wire:3", "resistive", 3.0),
        Fault("wire:3", "open"),
        Fault("battery:battery", "weak"),
        Fault("battery:battery", "weak", 0.6),
    ]
    found = found_in(base, [(fault,) for fault in faults])
    wire = float(base.net.g_s[base.net.branch_of["wire:3"]])
    assert found.branch_s[:2, 0] == pytest.approx([1 / (1 / wire + 3.0), 0.0])
    assert found.branch_emf_v[2:, 0] == pytest.approx([12.6 * 0.8, 12.6])
    assert found.branch_s[3, 0] == pytest.approx(1 / 0.62)


@pytest.mark.parametrize("file", EVERY_LOOM)
def test_no_branch_of_a_bike_is_nearly_the_only_way(file: str) -> None:
    # The share of its current that another way would take is nothing, or far more than
    # what is taken for nothing: an island is cut off, or is not.
    h = loom(file)
    net = compile_network(h, rig_from(h, {"engine": "running"}))
    base = factorise(net, solve_network(net).on.tobytes())
    near = base.near_ohm
    a, b = net.a[base.on], net.b[base.on]
    ohm = near[a, a] + near[b, b] - 2 * near[a, b]
    share = np.abs(1.0 - base.g_s[base.on] * ohm)
    assert float(share[share < NO_OTHER_WAY].max()) < NO_OTHER_WAY / 100
    assert float(share[share > NO_OTHER_WAY].min(initial=1.0)) > NO_OTHER_WAY * 100
