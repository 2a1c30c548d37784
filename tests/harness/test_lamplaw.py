"""The filament: its law, its knee and its cold end (check values L10, L13, L14)."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from harness.lamplaw import COLD_KNEE, COLD_RATIO, secant_s, tangent_s

HOT = np.array([21 / 144])
RATED = np.array([12.0])


def test_at_rated_volts_it_draws_its_watts() -> None:
    assert secant_s(RATED, HOT, RATED)[0] * 12.0**2 == pytest.approx(21.0)


def test_cold_it_has_a_twelfth_of_its_hot_resistance() -> None:
    cold = secant_s(np.array([0.0]), HOT, RATED)[0]
    assert HOT[0] / cold == pytest.approx(COLD_RATIO)


@given(st.floats(-30, 30))
def test_either_way_round_it_draws_alike(volts: float) -> None:
    there = secant_s(np.array([volts]), HOT, RATED)
    back = secant_s(np.array([-volts]), HOT, RATED)
    assert there == pytest.approx(back)


@given(st.floats(0.1, 20))
def test_the_tangent_is_the_slope_of_the_current(volts: float) -> None:
    step = 1e-6 * volts

    def amps(v: float) -> float:
        return float(secant_s(np.array([v]), HOT, RATED)[0] * v)

    slope = (amps(volts + step) - amps(volts - step)) / (2 * step)
    assert tangent_s(np.array([volts]), HOT, RATED)[0] == pytest.approx(slope, rel=1e-4)


def test_below_the_knee_it_is_a_plain_resistance() -> None:
    below = np.array([0.5 * COLD_KNEE * 12.0])
    assert tangent_s(below, HOT, RATED) == pytest.approx(secant_s(below, HOT, RATED))
