"""Three guesses, their mean and spread, and what chance draws from them."""

from decimal import Decimal
from statistics import fmean, pvariance

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shop.domain.estimates import (
    ThreePoint,
    drawn,
    means,
    reached_by,
    what_is_left,
)

GUESSES = st.lists(
    st.decimals(0, 500, places=2, allow_nan=False), min_size=3, max_size=3
).map(lambda three: ThreePoint(*sorted(three)))


def guess(least: str, likely: str, most: str) -> ThreePoint:
    return ThreePoint(Decimal(least), Decimal(likely), Decimal(most))


def test_guesses_out_of_order_are_refused() -> None:
    for three in (("2", "1", "3"), ("1", "3", "2"), ("-1", "0", "1")):
        with pytest.raises(ValueError, match="out of order"):
            guess(*three)


def test_a_certain_task_has_no_spread_and_always_takes_the_same() -> None:
    four = guess("4", "4", "4")
    assert four.standard_deviation == 0
    chance = np.random.default_rng(1)
    assert set(drawn([four], draws=50, steps_a_unit=60, chance=chance).flat) == {240}


def test_what_is_drawn_has_the_mean_of_pert_and_the_variance_of_its_own_beta() -> None:
    # Mean (a + 4m + b)/6; the variance of a beta over [a, b] with this mean and mode
    # m is (mean - a)(b - mean)/7: calc, from alpha = 1 + 4(m - a)/(b - a) and
    # alpha + beta = 6.
    rewire = guess("20", "28", "60")
    drawn_minutes = drawn(
        [rewire], draws=40_000, steps_a_unit=60, chance=np.random.default_rng(4)
    )
    hours = [minutes / 60 for minutes in drawn_minutes[0].tolist()]
    assert fmean(hours) == pytest.approx(32.0, abs=0.15)
    assert pvariance(hours) == pytest.approx(12 * 28 / 7, rel=0.03)
    assert min(hours) >= 20
    assert max(hours) <= 60


def test_the_same_seed_draws_the_same_and_another_does_not() -> None:
    guesses = [guess("1", "2", "6"), guess("3", "4", "5")]

    def of(seed: int) -> list[list[int]]:
        chance = np.random.default_rng(seed)
        steps = drawn(guesses, draws=9, steps_a_unit=60, chance=chance)
        return [[int(minutes) for minutes in row] for row in steps]

    assert of(7) == of(7)
    assert of(7) != of(8)


@settings(max_examples=50)
@given(GUESSES)
def test_nothing_is_drawn_outside_the_guesses(three: ThreePoint) -> None:
    chance = np.random.default_rng(2)
    steps = drawn([three], draws=64, steps_a_unit=100, chance=chance)
    assert int(three.optimistic * 100) <= steps.min()
    assert steps.max() <= int(three.pessimistic * 100)
    assert means([three], steps_a_unit=100)[0, 0] == round(three.mean * 100)


@settings(max_examples=50)
@given(GUESSES, st.decimals(0, 600, places=2, allow_nan=False))
def test_work_done_never_leaves_more_and_never_leaves_nothing(
    three: ThreePoint, done: Decimal
) -> None:
    half_an_hour = Decimal("0.5")
    left = what_is_left(three, done, at_least=half_an_hour)
    assert half_an_hour <= left.pessimistic
    assert left.pessimistic <= max(three.pessimistic, half_an_hour)
    assert left.mean <= max(three.mean, half_an_hour)


def test_so_many_percent_of_the_draws_are_reached_and_one_less_is_not() -> None:
    days = np.array([5, 1, 4, 2, 3, 6, 9, 7, 8, 10])
    assert reached_by(days, percent=50) == 5
    assert reached_by(days, percent=80) == 8
    assert reached_by(days, percent=95) == 10
