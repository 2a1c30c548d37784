"""Three guesses of one thing, and what chance may make of them.

The guesses are the least, the likeliest and the most that it may take. As in the
project trade (PERT) the mean is (a + 4 m + b) / 6 and the standard deviation
(b - a) / 6. What is drawn follows the beta distribution over [a, b] that has this mean
exactly and m as its mode; its own variance is (mean - a)(b - mean) / 7, which is
(b - a)^2 / 28 in the middle and less towards the ends: near, not equal to, the square
of the rule of thumb.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

import numpy as np
from numpy.typing import NDArray

from shop.domain.labour import MINUTES_AN_HOUR

Whole = NDArray[np.int64]
"""Whole minutes, days or counts."""


@dataclass(frozen=True, slots=True)
class ThreePoint:
    """Three guesses in one unit, none below the one before.

    Raises
    ------
    ValueError
        Where one is negative or they stand in another order.

    Examples
    --------
    >>> guess = ThreePoint(Decimal(2), Decimal(4), Decimal(12))
    >>> guess.mean, guess.variance == Decimal(100) / 36
    (Decimal('5'), True)
    """

    optimistic: Decimal
    likely: Decimal
    pessimistic: Decimal

    def __post_init__(self) -> None:
        """Refuse guesses that no beta distribution fits."""
        if not 0 <= self.optimistic <= self.likely <= self.pessimistic:
            raise ValueError(f"guesses out of order: {self}")

    @property
    def mean(self) -> Decimal:
        """Return the mean by PERT."""
        return (self.optimistic + 4 * self.likely + self.pessimistic) / 6

    @property
    def standard_deviation(self) -> Decimal:
        """Return the standard deviation by PERT."""
        return (self.pessimistic - self.optimistic) / 6

    @property
    def variance(self) -> Decimal:
        """Return the variance by PERT."""
        return (self.pessimistic - self.optimistic) ** 2 / 36


def what_is_left(guess: ThreePoint, done: Decimal, *, at_least: Decimal) -> ThreePoint:
    """Return the guesses less what is done; something is left until all is done.

    Parameters
    ----------
    done : Decimal
        Spent on it already, in the unit of the guesses.
    at_least : Decimal
        What still counts as the most where the guesses are used up.

    Examples
    --------
    >>> guess = ThreePoint(Decimal(2), Decimal(4), Decimal(12))
    >>> left = what_is_left(guess, Decimal(3), at_least=Decimal(1))
    >>> left.optimistic, left.likely, left.pessimistic
    (Decimal('0'), Decimal('1'), Decimal('9'))
    """
    most = max(guess.pessimistic - done, at_least)
    likely = min(max(guess.likely - done, Decimal(0)), most)
    least = min(max(guess.optimistic - done, Decimal(0)), likely)
    return ThreePoint(least, likely, most)


def drawn(
    guesses: Sequence[ThreePoint],
    *,
    draws: int,
    steps_a_unit: int,
    chance: np.random.Generator,
) -> Whole:
    """Draw what each takes, so many times over, in whole steps.

    Parameters
    ----------
    guesses : sequence of ThreePoint
        One for each row.
    draws : int
        How often.
    steps_a_unit : int
        Steps in one unit of the guesses: 60 draws hours as minutes, 1 days as days.
    chance : numpy.random.Generator
        Where chance comes from; the same seed draws the same.

    Returns
    -------
    ndarray of int, shape (len(guesses), draws)
        Steps, rounded to the nearest.
    """
    points = np.array(
        [(g.optimistic, g.likely, g.pessimistic) for g in guesses], dtype=np.float64
    ).reshape(-1, 3, 1)
    least, likely, most = points[:, 0], points[:, 1], points[:, 2]
    spread = most - least
    # One that is certain has no spread to divide by; any shape gives it back.
    width = np.where(spread > 0, spread, 1)
    shares = chance.beta(
        1 + 4 * (likely - least) / width,
        1 + 4 * (most - likely) / width,
        size=(len(guesses), draws),
    )
    return np.rint((least + spread * shares) * steps_a_unit).astype(np.int64)


def means(guesses: Sequence[ThreePoint], *, steps_a_unit: int) -> Whole:
    """Return the mean of each in whole steps, as one draw.

    Examples
    --------
    >>> guess = ThreePoint(Decimal(2), Decimal(4), Decimal(12))
    >>> means([guess], steps_a_unit=60).tolist()
    [[300]]
    """
    steps = [round(guess.mean * steps_a_unit) for guess in guesses]
    return np.array(steps, dtype=np.int64).reshape(-1, 1)


def in_minutes(hours: Decimal) -> int:
    """Return hours as whole minutes.

    Examples
    --------
    >>> in_minutes(Decimal("1.75"))
    105
    """
    return round(hours * MINUTES_AN_HOUR)


def reached_by(values: Whole, *, percent: int) -> int:
    """Return the least value that so many percent of the draws do not exceed.

    Examples
    --------
    >>> reached_by(np.array([3, 1, 2, 4, 5]), percent=50)
    3
    >>> reached_by(np.array([3, 1, 2, 4, 5]), percent=95)
    5
    """
    place = -(-percent * values.size // 100) - 1
    return int(np.partition(values, place)[place])
