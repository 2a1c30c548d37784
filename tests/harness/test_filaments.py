"""Filaments of many circuits at once, against each circuit on its own."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from harness.circuit import Circuit
from harness.filaments import Filaments, settle_many
from harness.solver import solve_network

HOT_S = np.array([21 / 144, 5 / 144])
RATED_V = np.array([12.0, 12.0])


def settled(volts: float, ohm: float, *, intact: tuple[bool, bool]) -> list[float]:
    """Return the volts over two lamps side by side behind a resistance."""
    lamps = Filaments(HOT_S, RATED_V, fixed_s=HOT_S)
    # Both at their hot conductance: the source sees `ohm` and their sum.
    total_s = float(HOT_S.sum()) + 1 / ohm
    open_v = np.full((1, 2), volts / ohm / total_s)
    z_ohm = np.full((1, 2, 2), 1 / total_s)
    if not all(intact):
        # A broken one draws nothing: take its fixed conductance out again.
        gone = float(HOT_S[~np.array(intact)].sum())
        open_v = np.full((1, 2), volts / ohm / (total_s - gone))
        z_ohm = np.full((1, 2, 2), 1 / (total_s - gone))
    found = settle_many(lamps, open_v, z_ohm, np.array([intact]))
    return [float(v) for v in found[0]]


def directly(volts: float, ohm: float, *, intact: tuple[bool, bool]) -> float:
    circuit = Circuit(reference="0")
    circuit.add_source("top", "0", volts=volts, ohm=ohm)
    for k, (watts, whole) in enumerate(zip((21, 5), intact, strict=True)):
        if whole:
            circuit.add_lamp("top", "0", watts=watts, at_volts=12, segment=f"lamp{k}")
    net = circuit.network()
    return float(solve_network(net).volts[net.node_of["top"]])


@pytest.mark.parametrize("intact", [(True, True), (True, False), (False, True)])
@pytest.mark.parametrize("ohm", [0.1, 3.0, 30.0, 300.0])
@pytest.mark.parametrize("volts", [12.6, 6.0, -12.6, 0.0])
def test_lamps_settle_where_they_do_by_themselves(
    volts: float, ohm: float, intact: tuple[bool, bool]
) -> None:
    expected = directly(volts, ohm, intact=intact)
    found = settled(volts, ohm, intact=intact)
    for value, whole in zip(found, intact, strict=True):
        if whole:
            assert value == pytest.approx(expected, abs=1e-5)


@given(st.lists(st.floats(0.05, 500), min_size=2, max_size=6))
def test_circuits_do_not_meddle_with_each_other(ohms: list[float]) -> None:
    lamps = Filaments(HOT_S, RATED_V, fixed_s=HOT_S)
    total_s = float(HOT_S.sum()) + 1 / np.array(ohms)
    open_v = np.repeat((12.6 / np.array(ohms) / total_s)[:, None], 2, axis=1)
    z_ohm = np.broadcast_to((1 / total_s)[:, None, None], (len(ohms), 2, 2)).copy()
    intact = np.ones((len(ohms), 2), dtype=bool)
    together = settle_many(lamps, open_v, z_ohm, intact)
    for k in range(len(ohms)):
        row = slice(k, k + 1)
        alone = settle_many(lamps, open_v[row], z_ohm[row], intact[row])
        assert together[k] == pytest.approx(alone[0], abs=1e-7)


def test_a_good_guess_changes_nothing_but_the_work() -> None:
    lamps = Filaments(HOT_S, RATED_V, fixed_s=HOT_S)
    z_ohm = np.full((1, 2, 2), 2.0)
    open_v = np.full((1, 2), 8.0)
    intact = np.ones((1, 2), dtype=bool)
    cold = settle_many(lamps, open_v, z_ohm, intact)
    warm = settle_many(lamps, open_v, z_ohm, intact, start_v=cold)
    assert warm == pytest.approx(cold, abs=1e-7)


def test_no_lamps_need_no_settling() -> None:
    none = Filaments(np.zeros(0), np.zeros(0), np.zeros(0))
    found = settle_many(
        none, np.zeros((3, 0)), np.zeros((3, 0, 0)), np.ones((3, 0), dtype=bool)
    )
    assert found.shape == (3, 0)


def test_what_is_drawn_beyond_the_fixed_conductance() -> None:
    lamps = Filaments(HOT_S, RATED_V, fixed_s=HOT_S)
    at_rated = lamps.excess_amps(np.array([12.0, 12.0]))
    assert at_rated == pytest.approx([0.0, 0.0])
    # L13 [calc H]: at 6 V the 21 W lamp draws 1.195 A, not a resistor's 0.875 A.
    half = lamps.excess_amps(np.array([6.0, 6.0]))
    assert float(half[0]) == pytest.approx(1.195 - 0.875, abs=1e-3)
