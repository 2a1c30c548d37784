"""Sets of faults in one rig from few factorisations, against each solved by itself."""

from collections.abc import Callable
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harness.circuit import BoolArray, FloatArray, Role
from harness.consumers import ordinary_rigs
from harness.edits import edits
from harness.errors import SingularNetwork
from harness.faults import Fault, single_faults
from harness.findings import Test
from harness.model import Harness
from harness.network import compile_network
from harness.predictions import predictions_for
from harness.rig import rig_from
from harness.sets import FaultSet
from harness.tables import Build, RigTable, solve_edits, solve_faults
from tests.harness.compared import (
    every_set,
    fresh_table,
    sets_of,
    volts_apart,
)
from tests.harness.direct import Bench, some_sets
from tests.harness.library import EVERY_LOOM, WHIMBREL, Rig, everything_on, loom
from tests.harness.small_looms import (
    BRAKE,
    HORN,
    ON,
    brown_out,
    buzzer,
    horn_and_tail,
    positive_earth,
    relay_and_charger,
)

# Below what any meter shows.
VOLTS_APART = 1e-6


@cache
def bike() -> Harness:
    return horn_and_tail()


def table_of(h: Harness, rig: Rig, faults: list[Fault | None]) -> RigTable:
    return solve_faults(h, rig_from(h, rig), faults)


# --- As if each were solved by itself ----------------------------------------------

SMALL: list[tuple[Callable[[], Harness], Rig]] = [
    *((horn_and_tail, rig) for rig in ({}, ON, HORN, BRAKE)),
    (relay_and_charger, {}),
    (relay_and_charger, {"switch": "ON"}),
    (relay_and_charger, {"switch": "ON", "engine": "running"}),
    (lambda: positive_earth(relay_and_charger()), {"engine": "running"}),
    (brown_out, {"switch": "ON"}),
]


@pytest.mark.parametrize(("make", "rig"), SMALL)
def test_all_singles_and_some_sets_of_a_small_loom_as_if_each_by_itself(
    make: Callable[[], Harness], rig: Rig
) -> None:
    h = make()
    sets = every_set(h, pairs=40, triples=20)
    assert volts_apart(h, rig_from(h, rig), sets) == []


@pytest.mark.parametrize("file", EVERY_LOOM)
def test_sets_dealt_over_a_bike_s_ordinary_rigs_as_if_each_by_itself(file: str) -> None:
    # All of them, in all rigs: tests/benchmarks/test_every_set_of_faults.py.
    h = loom(file)
    few = [()] + [s for n in (1, 2, 3) for s in some_sets(h, 8 * (4 - n), n, n)]
    rigs = ordinary_rigs(h)
    for k, rig in enumerate(rigs):
        assert volts_apart(h, rig, few[k :: len(rigs)]) == []


@pytest.mark.parametrize("file", EVERY_LOOM)
def test_everything_unplugged_pulled_and_bridged_is_a_rig_like_any_other(
    file: str,
) -> None:
    h = loom(file)
    plugs = [d.id for d in h.devices.values() if d.kind == "plug"][:1]
    fuses = [d.id for d in h.devices.values() if d.kind == "fuse"][-1:]
    wire = sorted(h.wires)[len(h.wires) // 2]
    pulled = h.wires[wire].start
    rigs: list[Rig] = [
        {"unplugged": plugs},
        {"removed": fuses},
        {"unplugged": [pulled], "engine": "running"},
        {"battery-lead": "off", "engine": "running"},
    ]
    for k, rig in enumerate(rigs):
        sets: list[FaultSet] = [(), *some_sets(h, 6, 1, k), *some_sets(h, 6, 2, k)]
        assert volts_apart(h, rig_from(h, rig), sets) == []


# --- Laws --------------------------------------------------------------------------

MAKES = {"horn": horn_and_tail, "relay": relay_and_charger, "brown-out": brown_out}
RIGS: dict[str, list[Rig]] = {
    "horn": [{}, ON, HORN, BRAKE],
    "relay": [{}, {"switch": "ON"}, {"switch": "ON", "engine": "running"}],
    "brown-out": [{"switch": "ON"}],
}


@cache
def made(name: str) -> Harness:
    return MAKES[name]()


@st.composite
def cases(draw: st.DrawFn, size: int) -> tuple[str, Rig, FaultSet]:
    """Draw a loom, a rig and faults of it, no two on one segment."""
    name = draw(st.sampled_from(sorted(MAKES)))
    rig = draw(st.sampled_from(RIGS[name]))
    faults = draw(
        st.lists(
            st.sampled_from(single_faults(made(name))),
            min_size=size,
            max_size=size,
            unique_by=lambda fault: fault.segment,
        ).filter(lambda fs: len({s for f in fs for s in f.segments}) == count(fs))
    )
    return name, rig, tuple(faults)


def count(faults: list[Fault]) -> int:
    return sum(len(fault.segments) for fault in faults)


def same(table: RigTable, one: int, other: int) -> bool:
    """Tell whether two sets come to the same: volts where there are any, and fuses.

    A stretch that hangs on nothing but a diode without current may count as either.
    """
    volts = table.node_volts()
    here = reached(table, one) & reached(table, other)
    return bool(
        close(volts[one, here], volts[other, here])
        and np.isnan(volts[one]).any() == np.isnan(volts[other]).any()
        and table.blown()[one] == table.blown()[other]
    )


def reached(table: RigTable, row: int) -> BoolArray:
    """Return which nodes the battery reaches: the others have no volts to speak of."""
    if table.group_of[row] < 0:
        return np.zeros(len(table.net.nodes), dtype=bool)
    group = table.groups[int(table.group_of[row])]
    island = group.change.island[table.row_in_group[row]]
    out: BoolArray = island == island[table.net.reference]
    return out


def close(one: FloatArray, other: FloatArray) -> bool:
    return bool(np.allclose(one, other, rtol=0, atol=VOLTS_APART, equal_nan=True))


@settings(max_examples=25, deadline=None)
@given(cases(3), st.permutations(range(3)))
def test_the_order_in_which_faults_are_named_does_not_matter(
    case: tuple[str, Rig, FaultSet], order: list[int]
) -> None:
    name, rig, faults = case
    h = made(name)
    turned = tuple(faults[k] for k in order)
    table = fresh_table(h, rig_from(h, rig), [faults, turned])
    assert same(table, 0, 1)


@settings(max_examples=25, deadline=None)
@given(cases(2))
def test_a_fault_that_has_no_part_in_the_rig_adds_nothing(
    case: tuple[str, Rig, FaultSet],
) -> None:
    name, rig, faults = case
    h, placed = made(name), rig_from(made(name), rig)
    net = compile_network(h, placed)
    mine = tuple(fault for fault in faults if edits(h, net, fault))
    table = fresh_table(h, placed, [faults, mine])
    assert same(table, 0, 1)
    for fault in single_faults(h):
        if fault.moved:
            more = fresh_table(h, placed, [mine, (*mine, fault)])
            assert same(more, 0, 1)
            break


# --- What it tells -----------------------------------------------------------------


def test_the_lamps_have_the_volts_that_they_have_by_themselves() -> None:
    faults = [None, Fault("wire:12", "resistive", 3.0), Fault("wire:11", "open")]
    table = table_of(bike(), BRAKE, [*faults, Fault("device:rear-lamp.stop", "dead")])
    drops = table.lamp_drops()
    assert drops.shape == (4, 2)
    for row, fault in enumerate([*faults, Fault("device:rear-lamp.stop", "dead")]):
        bench = Bench(bike(), table.rig, () if fault is None else (fault,))
        for lamp, pin in enumerate("TS"):
            expected = bench.drop(f"rear-lamp.{pin}", "rear-lamp.E")
            assert drops[row, lamp] == pytest.approx(expected, abs=VOLTS_APART)
            between = table.between(
                table.net.node_of[f"rear-lamp.{pin}"], table.net.node_of["rear-lamp.E"]
            )
            assert float(between[row]) == pytest.approx(expected, abs=VOLTS_APART)


@pytest.mark.parametrize("rig", [{}, ON, HORN])
def test_a_short_opens_the_fuses_that_it_opens_by_itself(rig: Rig) -> None:
    shorts = [f for f in single_faults(bike()) if f.is_short]
    table = table_of(bike(), rig, [None, *shorts])
    blown = table.blown()
    assert blown[0] == frozenset()
    for row, fault in enumerate(shorts, start=1):
        bench = Bench(bike(), table.rig, (fault,))
        assert bench.at_rest is not None
        names = {bench.net.segments[k] for k in bench.at_rest.blown}
        assert blown[row] == names, fault
    assert {"fuse:main-fuse"} in blown


def test_a_fuse_that_a_short_has_opened_stays_open_in_every_later_rig() -> None:
    h = bike()
    known = predictions_for(h)
    row = known.faults.index(Fault("wire:6", "earthed"))
    assert known.opened[row] == {"fuse:main-fuse"}
    rest = rig_from(h, {})
    # With the key off nothing is wrong on wire 6; yet the fuse has gone before.
    assert table_of(h, {}, [known.faults[row]]).blown() == [frozenset()]
    assert known.table(rest).blown()[row] == {"fuse:main-fuse"}
    shown = known.shown(Test(rest, "voltmeter", "main-fuse.2", "frame.horn"))
    assert float(shown[row]) == pytest.approx(0.0, abs=1e-3)
    assert float(shown[0]) == pytest.approx(12.6, abs=1e-3)


def test_a_blown_fuse_and_one_taken_for_blown_are_not_the_same() -> None:
    h = bike()
    known = predictions_for(h)
    by_itself = known.faults.index(Fault("fuse:main-fuse", "blown"))
    assert known.opened[by_itself] == frozenset()
    seen = known.fuse_blown(known.table(rig_from(h, {})), "main-fuse")
    shorted = known.faults.index(Fault("wire:6", "earthed"))
    assert seen[[0, by_itself, shorted]].tolist() == [0.0, 1.0, 1.0]


def test_a_set_that_finds_no_rest_is_marked_and_nothing_else() -> None:
    h = brown_out()
    bad = Fault("plug:plug.1", "resistive", 30.0)
    more = Fault("wire:8", "open")
    rig = rig_from(h, {"switch": "ON"})
    table = fresh_table(h, rig, [(), (bad,), (more,), (bad, more)])
    # Without its load the relay has no reason to let go again.
    assert np.isnan(table.node_volts()).any(axis=1).tolist() == [
        False,
        True,
        False,
        False,
    ]
    assert table.group_of[1] == table.row_in_group[1] == -1
    assert Bench(h, rig, (bad,)).at_rest is None


def test_a_bike_that_never_rests_has_no_table() -> None:
    h = buzzer()
    with pytest.raises(SingularNetwork, match="switches to and fro"):
        solve_faults(h, rig_from(h, {}), [None])


def test_a_relay_that_a_bad_contact_starves_holds_as_it_does_by_itself() -> None:
    # Three ohm leave its coil 4.9 V with the load on: too little to pull in, enough to
    # hold (drop-out: common practice, no source).
    held = Fault("plug:plug.1", "resistive", 3.0)
    table = table_of(brown_out(), {"switch": "ON"}, [None, held])
    node = table.net.node_of
    volts = table.node_volts()[1]
    assert 2.88 < float(volts[node["relay.86"]] - volts[node["relay.85"]]) < 7.2
    assert float(volts[node["relay.87"]]) > 4.5


def test_a_fault_of_a_part_that_is_not_in_the_rig_changes_nothing() -> None:
    # The contact of another position, and a device that is taken out.
    contact = Fault("switch:key-switch.PARK.30-57", "open")
    volts = table_of(bike(), ON, [None, contact]).node_volts()
    assert volts[1].tolist() == volts[0].tolist()
    out = ON | {"removed": ["horn"]}
    gone = table_of(bike(), out, [None, Fault("device:horn", "dead")]).node_volts()
    assert gone[1].tolist() == gone[0].tolist()


def test_currents_of_fuses_are_those_of_each_fault_by_itself() -> None:
    sets: list[FaultSet] = [
        (),
        (Fault("wire:5", "open"),),
        (Fault("fuse:main-fuse", "resistive", 3.0),),
        (Fault("fuse:main-fuse", "resistive", 3.0), Fault("wire:7", "open")),
        (Fault("fuse:main-fuse", "blown"),),
    ]
    rig = rig_from(bike(), HORN)
    table = fresh_table(bike(), rig, sets)
    k = table.net.branch_of["fuse:main-fuse"]
    for group in table.groups:
        amps = group.special_amps(np.array([k]))[:, 0]
        for row, value in zip(group.rows.tolist(), amps.tolist(), strict=True):
            solution = Bench(bike(), rig, sets[row]).at_rest
            assert solution is not None
            assert value == pytest.approx(float(solution.amps[k]), abs=1e-6)


def test_a_table_asked_for_few_nodes_says_the_same_of_them() -> None:
    h = loom(WHIMBREL)
    rig = rig_from(h, everything_on(WHIMBREL))
    sets = some_sets(h, 10, 2, 9)
    table = sets_of(h).table(rig, sets)
    net = table.net
    # It needs the ends of whatever current switches, and of all filaments.
    switched = np.flatnonzero(net.role >= Role.LAMP)
    coils = net.coil_of[net.coil_of >= 0]
    needed = np.concatenate([switched, coils])
    nodes = np.unique(np.concatenate([net.a[needed], net.b[needed]]))
    few = solve_edits(h, rig, Build(net, table.build.made, table.build.opened, nodes))
    assert close(few.node_volts(), table.node_volts()[:, nodes])
