"""Every fault in one rig from a few factorisations, against each fault on its own."""

from collections.abc import Callable
from functools import cache

import numpy as np
import pytest

from harness.circuit import FloatArray
from harness.faults import Fault, single_faults
from harness.findings import Test
from harness.model import Harness
from harness.predictions import predictions_for
from harness.rig import rig_from
from harness.solver import Solution, islands
from harness.tables import RigTable, solve_faults
from tests.harness.direct import faulty, solved, some_faults
from tests.harness.library import LOOMS, Rig, everything_on, loom
from tests.harness.small_looms import (
    BRAKE,
    HORN,
    ON,
    brown_out,
    horn_and_tail,
    positive_earth,
    relay_and_charger,
)

# Below what any meter shows.
VOLTS_APART = 1e-3
AMPS_APART = 2e-3


@cache
def bike() -> Harness:
    return horn_and_tail()


def table_of(h: Harness, rig: Rig, faults: list[Fault | None]) -> RigTable:
    return solve_faults(h, rig_from(h, rig), faults)


def alone(table: RigTable, row: int) -> tuple[FloatArray, Solution | None]:
    """Return which nodes the battery reaches and the solution of one fault by itself.

    Nodes that it does not reach stand against a point of their own.
    """
    net = faulty(table.h, table.rig, table.faults[row])
    solution = solved(net)
    if solution is None:
        return np.zeros(0), None
    labels = islands(net, solution.on)
    count = len(table.net.nodes)
    return (labels == labels[net.reference])[:count], solution


def worst(table: RigTable) -> tuple[float, Fault | None]:
    """Return the largest difference in volts from each fault solved by itself."""
    volts = table.node_volts()
    found: list[tuple[float, Fault | None]] = []
    for row, fault in enumerate(table.faults):
        joined, solution = alone(table, row)
        if solution is None:
            assert np.isnan(volts[row]).all(), fault
            continue
        away = np.abs(volts[row] - solution.volts[: len(joined)])
        found.append((float(away[joined.astype(bool)].max()), fault))
    return max(found, key=lambda pair: pair[0])


SMALL: list[tuple[Callable[[], Harness], Rig]] = [
    *((horn_and_tail, rig) for rig in ({}, ON, HORN, BRAKE)),
    (relay_and_charger, {}),
    (relay_and_charger, {"switch": "ON"}),
    (relay_and_charger, {"switch": "ON", "engine": "running"}),
    (lambda: positive_earth(relay_and_charger()), {"engine": "running"}),
    (brown_out, {"switch": "ON"}),
]


@pytest.mark.parametrize(("make", "rig"), SMALL)
def test_every_fault_of_a_small_loom_as_if_solved_by_itself(
    make: Callable[[], Harness], rig: Rig
) -> None:
    h = make()
    difference, fault = worst(table_of(h, rig, [None, *single_faults(h)]))
    assert difference < VOLTS_APART, fault


@pytest.mark.parametrize("file", LOOMS)
@pytest.mark.parametrize("seed", [1, 2])
def test_faults_of_a_whole_bike_as_if_solved_by_themselves(
    file: str, seed: int
) -> None:
    h = loom(file)
    for rig in (everything_on(file), everything_on(file) | {"engine": "running"}):
        faults = [None, *some_faults(h, 24, seed)]
        difference, fault = worst(table_of(h, rig, faults))
        assert difference < VOLTS_APART, (rig, fault)


def test_the_lamps_have_the_volts_that_they_have_by_themselves() -> None:
    faults = [None, Fault("wire:12", "resistive", 3.0), Fault("wire:11", "open")]
    table = table_of(bike(), BRAKE, [*faults, Fault("device:rear-lamp.stop", "dead")])
    drops = table.lamp_drops()
    assert drops.shape == (4, 2)
    for row in range(4):
        _, solution = alone(table, row)
        assert solution is not None
        node = table.net.node_of
        for lamp, pin in enumerate("TS"):
            one, two = node[f"rear-lamp.{pin}"], node["rear-lamp.E"]
            expected = float(solution.volts[one] - solution.volts[two])
            assert drops[row, lamp] == pytest.approx(expected, abs=VOLTS_APART)


@pytest.mark.parametrize("rig", [{}, ON, HORN])
def test_a_short_opens_the_fuses_that_it_opens_by_itself(rig: Rig) -> None:
    shorts = [f for f in single_faults(bike()) if f.mode == "earthed"]
    table = table_of(bike(), rig, [None, *shorts])
    blown = table.blown()
    assert blown[0] == frozenset()
    for row, fault in enumerate(shorts, start=1):
        net = faulty(bike(), table.rig, fault)
        solution = solved(net)
        assert solution is not None
        assert blown[row] == {net.segments[k] for k in solution.blown}, fault
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


def test_a_fault_that_finds_no_rest_is_marked_and_nothing_else() -> None:
    h = brown_out()
    bad = Fault("plug:plug.1", "resistive", 30.0)
    table = table_of(h, {"switch": "ON"}, [None, bad, Fault("wire:8", "open")])
    assert np.isnan(table.node_volts()).any(axis=1).tolist() == [False, True, False]
    assert table.group_of[1] == -1
    assert solved(faulty(h, table.rig, bad)) is None


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
    table = table_of(bike(), ON, [None, contact])
    volts = table.node_volts()
    assert volts[1].tolist() == volts[0].tolist()
    out = ON | {"removed": ["horn"]}
    gone = table_of(bike(), out, [None, Fault("device:horn", "dead")]).node_volts()
    assert gone[1].tolist() == gone[0].tolist()


def test_currents_of_fuses_are_those_of_each_fault_by_itself() -> None:
    faults: list[Fault | None] = [None, Fault("wire:5", "open")]
    faults.append(Fault("fuse:main-fuse", "resistive", 3.0))
    table = table_of(bike(), HORN, faults)
    k = table.net.branch_of["fuse:main-fuse"]
    for group in table.groups:
        amps = group.special_amps(np.array([k]))[:, 0]
        for row, value in zip(group.rows.tolist(), amps.tolist(), strict=True):
            _, solution = alone(table, row)
            assert solution is not None
            assert value == pytest.approx(float(solution.amps[k]), abs=AMPS_APART)
