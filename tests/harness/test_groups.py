"""Sets of faults solved together in one discrete state, against each by itself."""

from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harness.bases import factorise
from harness.circuit import BoolArray, Network, Role
from harness.edit_arrays import arrays_of
from harness.edits import edits
from harness.faults import Fault, single_faults, with_faults
from harness.groups import Group, contradictions, solve_group, some_of
from harness.model import Harness
from harness.network import compile_network
from harness.rig import rig_from
from harness.sets import FaultSet
from harness.sights import Sight
from harness.solver import (
    Solution,
    branch_amps,
    disagreement,
    islands,
    settle_lamps,
    solve_network,
    together,
)
from tests.harness.direct import some_sets
from tests.harness.small_looms import HORN, horn_and_tail, relay_and_charger

RUNNING = {"switch": "ON", "engine": "running"}


@cache
def bike() -> Harness:
    return relay_and_charger()


@cache
def net() -> Network:
    return compile_network(bike(), rig_from(bike(), RUNNING))


def group_in(on: BoolArray, sets: list[FaultSet]) -> Group:
    made = arrays_of(
        net(), [[e for f in s for e in edits(bike(), net(), f)] for s in sets]
    )
    rows = np.arange(len(sets), dtype=np.intp)
    return solve_group(Sight.of(factorise(net(), on.tobytes())), made, rows)


def alone_in(on: BoolArray, faults: FaultSet) -> tuple[Network, Solution]:
    """Solve a set in a state by itself, whether or not it may stay in it."""
    faulty = with_faults(bike(), net(), faults)
    shut = np.append(on, np.ones(len(faulty.segments) - len(on), dtype=bool))
    for fault in faults:
        # A contact that sticks conducts whatever its relay does.
        if fault.mode == "stuck" and fault.segment in net().branch_of:
            shut[net().branch_of[fault.segment]] = True
    volts, g_s = settle_lamps(faulty, shut)
    return faulty, Solution(volts, branch_amps(faulty, volts, g_s), g_s, shut, ())


SWITCHED = net().of_role(Role.FUSE, Role.DIODE, Role.MAKE, Role.BREAK).tolist()


@settings(max_examples=60, deadline=None)
@given(st.sets(st.sampled_from(SWITCHED)), st.integers(0, 10_000))
def test_what_must_go_over_next_is_what_the_solver_would_turn(
    flipped: set[int], seed: int
) -> None:
    on = solve_network(net()).on.copy()
    for branch in flipped:
        on[list(together(net(), branch))] ^= True
    # One whose own switch is broken may be turned once more, to no effect.
    names = {net().segments[k] for k in SWITCHED}
    drawn = some_sets(bike(), 6, 1, seed) + some_sets(bike(), 6, 2, seed)
    sets = [(), *(s for s in drawn if not names & {f.segment for f in s})]
    for row, wrong in enumerate(contradictions(group_in(on, sets)).tolist()):
        faulty, alone = alone_in(on, sets[row])
        drop = alone.volts[faulty.a] - alone.volts[faulty.b]
        expected = disagreement(faulty, alone.on, drop, alone.amps)
        if expected is None:
            assert wrong == -1, sets[row]
        else:
            assert together(net(), wrong) == together(net(), expected), sets[row]


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 10_000))
def test_currents_and_drops_are_those_of_each_set_by_itself(seed: int) -> None:
    on = solve_network(net()).on
    sets = some_sets(bike(), 6, 2, seed)
    group = group_in(on, sets)
    plain = np.flatnonzero(net().role != Role.LAMP)
    amps, drops = group.special_amps(plain), group.drops(plain)
    for row, faults in enumerate(sets):
        faulty, alone = alone_in(on, faults)
        labels = islands(faulty, alone.on)
        # Wires that have chafed through have two halves, and two currents.
        halved = {s for f in faults for s in f.segments if f.mode in CHAFED}
        for column, k in enumerate(plain.tolist()):
            if net().segments[k] in halved or is_held(faults, k):
                continue
            assert amps[row, column] == pytest.approx(float(alone.amps[k]), abs=1e-6)
            # Between two stretches in the air there is no drop to speak of.
            one, two = net().a[k], net().b[k]
            if labels[one] == labels[two]:
                drop = float(alone.volts[one] - alone.volts[two])
                assert drops[row, column] == pytest.approx(drop, abs=1e-6)


CHAFED = {"earthed", "crossed"}


def is_held(faults: FaultSet, k: int) -> bool:
    return any(f.mode == "stuck" and f.segment == net().segments[k] for f in faults)


def test_a_fault_in_line_says_what_a_branch_has_become() -> None:
    bad = Fault("fuse:fuse", "resistive", 3.0)
    flat = Fault("battery:battery", "weak")
    group = group_in(solve_network(net()).on, [(), (bad,), (flat,)])
    fuse, battery = (net().branch_of[f.segment] for f in (bad, flat))
    g_s, emf_v = group.made_of(np.array([fuse, battery]))
    assert g_s[:, 0] == pytest.approx([100.0, 1 / 3.01, 100.0])
    assert emf_v[:, 1] == pytest.approx([12.6, 12.6, 12.6 * 0.8])


def test_a_cut_branch_is_known_as_cut() -> None:
    dead_coil = Fault("relay:relay.coil", "open")
    group = group_in(solve_network(net()).on, [(), (dead_coil,)])
    coil = np.array([net().branch_of[dead_coil.segment]])
    assert group.cut(coil)[:, 0].tolist() == [False, True]


def test_filaments_that_no_set_lights_stay_cold() -> None:
    h = horn_and_tail()
    here = compile_network(h, rig_from(h, {}))
    on = solve_network(here).on
    faults = [f for f in single_faults(h) if f.mode == "resistive"]
    made = arrays_of(here, [edits(h, here, f) for f in faults])
    rows = np.arange(len(faults), dtype=np.intp)
    group = solve_group(Sight.of(factorise(here, on.tobytes())), made, rows)
    assert float(np.abs(group.lamp_v).max()) < 1e-9
    lit = compile_network(h, rig_from(h, HORN))
    state = solve_network(lit).on.tobytes()
    made = arrays_of(lit, [edits(h, lit, f) for f in faults])
    group = solve_group(Sight.of(factorise(lit, state)), made, rows)
    tail = [lit.segments[k] for k in group.base.lamps].index("device:rear-lamp.tail")
    assert (np.abs(group.lamp_v[:, tail]) > 0.5).all()
    assert float(np.abs(group.lamp_v[:, 1 - tail]).max()) < 1e-9


def test_some_of_a_group_are_those_sets_alone() -> None:
    sets = some_sets(bike(), 8, 2, 5)
    group = group_in(solve_network(net()).on, sets)
    keep = np.array([True, False] * 4)
    some = some_of(group, keep)
    assert some.rows.tolist() == [0, 2, 4, 6]
    assert np.array_equal(some.volts, group.volts[keep])
    assert np.array_equal(some.change.z_ohm, group.change.z_ohm[keep])
    assert some.base is group.base
