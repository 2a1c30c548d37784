"""Two tests ahead: what the next one opens the way to.

The minutes that a hunt will still take after a test are estimated for each of its
outcomes: the bits that are left, at the bits a minute of the best test of now, less
what a second test in sight gets more cheaply. So a place once opened is used, a rig
once set is kept while it tells something, and a test that leaves two suspects which no
cheap test parts gives way to one that does not.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from harness.circuit import FloatArray
from harness.findings import Test
from harness.information import entropy_bits
from harness.minutes import Surroundings, minutes_for, places_of
from harness.model import Harness
from harness.suspects import ISOLATED

FIRST, SECOND = 14, 40
LEAST_BITS = 0.03


@dataclass(frozen=True)
class Candidate:
    """A test with its outcome groups; see `advice.Ranked`."""

    test: Test
    bits: float
    minutes: float
    groups: NDArray[np.intp]

    @property
    def worth(self) -> float:
        """Bits for each minute."""
        return self.bits / self.minutes


@dataclass(frozen=True)
class Ahead:
    """What a test leads to.

    Attributes
    ----------
    minutes : float
        Of the whole hunt from here with this test first, on the average.
    then : int or None
        The second test after the likeliest outcome, None where that ends the hunt.
    """

    minutes: float
    then: int | None


def look_ahead(
    h: Harness,
    candidates: Sequence[Candidate],
    ways: NDArray[np.intp],
    weight: FloatArray,
    around: Surroundings,
) -> list[Ahead]:
    """Return what the first few candidates lead to.

    Parameters
    ----------
    h : Harness
    candidates : sequence of Candidate
        Best first by themselves; the first ones are looked at, more serve as second.
    ways : ndarray of intp, shape (m,)
        Which explanation each hypothesis belongs to, those alike that no test parts.
    weight : ndarray of float, shape (m,)
    around : Surroundings
    """
    second = candidates[:SECOND]
    outcomes = _Outcomes(second, ways, weight)
    return [
        _ahead(h, number, second, outcomes, around)
        for number in range(min(FIRST, len(second)))
    ]


class _Outcomes:
    """Weights of every explanation in every outcome of every candidate."""

    def __init__(
        self,
        candidates: Sequence[Candidate],
        ways: NDArray[np.intp],
        weight: FloatArray,
    ) -> None:
        self.weight = weight
        self.ways = np.eye(int(ways.max()) + 1)[ways]
        hot = [np.eye(int(c.groups.max()) + 1)[c.groups] for c in candidates]
        self.hot = np.concatenate(hot, axis=1)
        self.starts = np.cumsum([0, *(part.shape[1] for part in hot[:-1])])
        self.of = hot

    def left(self, mass: FloatArray) -> float:
        """Return the bits still missing, none where one explanation is as good as it.

        Parameters
        ----------
        mass : ndarray of float, shape (m,)
            Summing to one.
        """
        of_ways = (self.ways * mass[:, None]).sum(axis=0)
        if float(of_ways.max()) >= ISOLATED:
            return 0.0
        return float(_terms(of_ways).sum())

    def gains(self, mass: FloatArray) -> FloatArray:
        """Return the bits of each candidate for hypotheses of some weights.

        Parameters
        ----------
        mass : ndarray of float, shape (m,)
            Summing to one.
        """
        joint = (self.ways * mass[:, None]).T @ self.hot
        marginal = joint.sum(axis=0)
        whole = np.add.reduceat(_terms(marginal), self.starts)
        # What an outcome would still be with the explanation known is its own spread.
        by_way = np.add.reduceat(_terms(joint), self.starts, axis=1).sum(axis=0)
        own = float(_terms((self.ways * mass[:, None]).sum(axis=0)).sum())
        gain: FloatArray = whole + own - by_way
        return np.maximum(gain, 0.0)


def _terms(p: FloatArray) -> FloatArray:
    out: FloatArray = -(p * np.log2(np.where(p > 0, p, 1.0)))
    return out


def _ahead(
    h: Harness,
    number: int,
    candidates: Sequence[Candidate],
    outcomes: _Outcomes,
    around: Surroundings,
) -> Ahead:
    first = candidates[number]
    after = Surroundings(
        rig=first.test.rig,
        open_places=around.open_places | places_of(h, first.test),
        taken=around.taken | {first.test},
    )
    minutes = np.array([minutes_for(h, c.test, after) for c in candidates])
    spent, rate = first.minutes, candidates[0].worth
    likeliest, then = 0.0, None
    for outcome in range(outcomes.of[number].shape[1]):
        inside = outcomes.weight * outcomes.of[number][:, outcome]
        share = float(inside.sum())
        if share <= 0.0:
            continue
        left, gains = outcomes.left(inside / share), outcomes.gains(inside / share)
        gains[number] = 0.0
        # What a second test saves: its bits, got elsewhere at the rate of now, less
        # what it costs here.
        saves = np.where(gains >= LEAST_BITS, gains / rate - minutes, -np.inf)
        best = int(saves.argmax())
        ends = left <= 0.0 or not np.isfinite(saves[best])
        if share > likeliest:
            likeliest, then = share, None if ends else best
        if left > 0.0:
            spent += share * (left / rate - max(float(saves[best]), 0.0))
    return Ahead(spent, then)


def bits_of_ways(
    groups: NDArray[np.intp], ways: NDArray[np.intp], weight: FloatArray
) -> float:
    """Return what a test's outcome tells of the explanations, sizes left aside."""
    joint = np.zeros((int(ways.max()) + 1, int(groups.max()) + 1))
    np.add.at(joint, (ways, groups), weight)
    whole = float(entropy_bits(joint.sum(axis=0)) + entropy_bits(joint.sum(axis=1)))
    return max(whole - float(entropy_bits(joint.ravel())), 0.0)


def merged(one: NDArray[np.intp], other: NDArray[np.intp]) -> NDArray[np.intp]:
    """Return the finest labels under which equal in either is equal.

    Parameters
    ----------
    one, other : ndarray of intp, shape (m,)
    """
    labels = one.copy()
    while True:
        before = labels
        for same in (other, one):
            lowest = np.full(int(same.max()) + 1, len(labels), dtype=np.intp)
            np.minimum.at(lowest, same, labels)
            labels = lowest[same]
        if (labels == before).all():
            break
    _, dense = np.unique(labels, return_inverse=True)
    return np.asarray(dense, dtype=np.intp)
