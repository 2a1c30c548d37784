"""Means weighted by how likely a hunt is, and whether probabilities hold."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from harness.rehearsal.summary import BINS, calibration_error, weighted_mean


def test_a_mean_is_weighted_by_how_likely_each_hunt_is() -> None:
    assert weighted_mean([2.0, 5.0], [3.0, 1.0]) == pytest.approx(2.75)


def test_what_is_said_to_be_sure_and_comes_true_half_the_time_is_half_off() -> None:
    assert calibration_error([(1.0, True), (1.0, False)], [1, 1]) == pytest.approx(0.5)
    assert calibration_error([(1.0, True), (0.0, False)], [1, 1]) == 0.0


def test_a_bin_is_held_against_how_often_it_came_true() -> None:
    # Ten at 0.75 of which eight come true, ten at 0.15 of which one does [calc]:
    # |0.75 - 0.8| / 2 + |0.15 - 0.1| / 2 = 0.05.
    stated = [(0.75, k < 8) for k in range(10)] + [(0.15, k < 1) for k in range(10)]
    assert calibration_error(stated, [1.0] * 20) == pytest.approx(0.05)


def test_errors_of_two_bins_do_not_make_up_for_each_other() -> None:
    stated = [(0.55, True), (0.65, False)]
    assert calibration_error(stated, [1, 1]) == pytest.approx((0.45 + 0.65) / 2)
    in_one_bin = [(0.52, True), (0.58, False)]
    assert calibration_error(in_one_bin, [1, 1]) == pytest.approx(0.05)


def test_what_comes_true_as_often_as_said_is_calibrated() -> None:
    random = np.random.default_rng(11)
    p = random.random(20000)
    stated = list(zip(p.tolist(), (random.random(20000) < p).tolist(), strict=True))
    # Of ten bins of two thousand, each off by about 0.008 by chance.
    assert calibration_error(stated, [1.0] * 20000) < 0.015


@given(
    st.lists(st.tuples(st.floats(0, 1), st.booleans()), min_size=1, max_size=40),
    st.floats(0.1, 10.0),
)
def test_the_error_lies_between_nothing_and_one_whatever_the_unit_of_weights(
    stated: list[tuple[float, bool]], unit: float
) -> None:
    error = calibration_error(stated, [1.0] * len(stated))
    assert 0.0 <= error <= 1.0
    scaled = calibration_error(stated, [unit] * len(stated))
    assert scaled == pytest.approx(error, abs=1e-12)
    assert BINS == 10
