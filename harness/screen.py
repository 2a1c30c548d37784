"""Which pairs of faults are worth weighing exactly.

A loom of 120 wires has a million pairs, nearly all of them hopeless. What a finding
says of a pair is estimated from what it says of its members. Where one hides the other
(`masking.py`), it is what the finding says of that one; of a short that is hidden the
fuse stays blown. Else, where the bike reads as it should, the worse explanation counts,
and of a symptom the better one. For members
that do not touch the same reading the estimate is exact. Pairs whose two branches are
each other's only other way are not seen like that; they are listed apart
(`ways_round.py`).

With ``a`` the log likelihood of a finding under each single fault less that of nothing
wrong, the estimate for a pair is ``a_i + a_j`` less what both share, and only faults
that a finding touches share anything. Pairs are gone through in blocks that stay in the
processor's cache; of all pairs at once there is only what they share.
"""

from collections.abc import Iterator
from copy import copy
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from harness.circuit import BoolArray, FloatArray, IntArray
from harness.findings import Finding
from harness.masking import masking
from harness.partners import Partners, partners_for
from harness.predictions import Predictions
from harness.segments import Fault

TOUCHED = 1e-6
BLOCK = 96
# Lighter than the heaviest by more than this, a pair adds nothing to a sum.
NOTHING = 40.0
# What a finding says is kept in steps of this: such numbers add up without rounding, so
# that the order of the findings decides nothing.
STEP = 2.0**-12
NO_PAIRS = np.zeros((0, 2), dtype=np.intp)


class Screen:
    """Estimates for all pairs of the single faults of a harness, finding by finding.

    Weights are logarithms, relative to that of nothing wrong being its prior.

    Parameters
    ----------
    predictions : Predictions
    log_prior : ndarray of float, shape (n_hypotheses,)
    beside : float
        What a further fault adds to the sum of the log priors.
    """

    def __init__(
        self, predictions: Predictions, log_prior: FloatArray, beside: float
    ) -> None:
        self.predictions = predictions
        self.log_prior = log_prior
        self.beside = beside
        self.gain = np.zeros(len(predictions.faults))
        self.most_gain = np.zeros(len(predictions.faults))
        self.any_moving = False
        self._partners: Partners = partners_for(predictions.faults)
        # Of places in the order of `Partners`; only at and right of the diagonal.
        self._shared = self._partners.excluded()
        self._fuse = _fuses_of(predictions)

    def copy(self) -> "Screen":
        """Return a screen that goes on from here by itself."""
        other = copy(self)
        other.gain, other.most_gain = self.gain.copy(), self.most_gain.copy()
        other._shared = self._shared.copy()  # noqa: SLF001 - its own class
        return other

    @property
    def may_show(self) -> BoolArray:
        """Which hypotheses the findings may show: while moving, loose contacts too."""
        out = np.ones(len(self.log_prior), dtype=np.bool_)
        if not self.any_moving:
            out[self._partners.rows[self._partners.rested :]] = False
        return out

    @property
    def count(self) -> int:
        """How many pairs there are."""
        return self._partners.count

    def add(self, logs: FloatArray, most: FloatArray, finding: Finding) -> None:
        """Take in what a finding says of every single fault.

        Parameters
        ----------
        logs : ndarray of float, shape (n_hypotheses,)
        most : ndarray of float, shape (n_hypotheses,)
            What it would say at most, were the reading a little off: a second fault
            takes load off the battery, or adds some.
        finding : Finding
        """
        self.any_moving |= finding.moving
        own = in_steps(logs - logs[0])
        self.gain += own
        self.most_gain += in_steps(most - logs[0])
        a = own[self._partners.rows].astype(np.float32)
        places = np.flatnonzero(np.abs(a) > TOUCHED)
        if not places.size:
            return
        found = masking(self.predictions.h, finding.test.rig)
        rows, a = self._partners.rows[places], a[places]
        left = np.where(self._fuse[rows] > 0, own[self._fuse[rows]], 0.0)
        left = left.astype(np.float32)
        for start in range(0, len(places), BLOCK):
            some, others = slice(start, start + BLOCK), slice(start, None)
            together = _together(
                Members(a[some, None], left[some, None]),
                Members(a[None, others], left[None, others]),
                found.hides(rows[some], rows[others]),
                found.hidden(rows[some], rows[others]),
            )
            shared = a[some, None] + a[None, others] - together
            self._shared[np.ix_(places[some], places[others])] += shared

    def promising(
        self, best: float, within: float, most: int, weighed: IntArray = NO_PAIRS
    ) -> IntArray:
        """Return the pairs that may weigh most once weighed exactly.

        Parameters
        ----------
        best : float
            Weight of the best explanation so far.
        weighed : ndarray of intp, shape (n, 2)
            Hypotheses of the pairs that are already, and so left out.
        within, most : float and int
            None that is lighter than the best by more than this, and at most so many.

        Returns
        -------
        ndarray of intp, shape (n, 2)
            Hypotheses, first before second; the most promising first.
        """
        places, own = self._own()
        hope = (self.most_gain - self.gain)[self._partners.rows[:places]]
        hope = hope.astype(np.float32)
        weight, pair = np.zeros(0, dtype=np.float32), np.zeros((0, 2), dtype=np.intp)
        for start, block in self._blocks(own, weighed):
            best = max(best, float(block.max()))
            hoped = block + hope[start : start + len(block), None]
            hoped += hope[None, start:]
            i, j = np.nonzero(hoped > best - within)
            weight = np.concatenate([weight, hoped[i, j]])
            pair = np.concatenate([pair, np.stack([i + start, j + start], axis=1)])
            if len(weight) > 4 * most:
                least = np.partition(weight, -most)[-most]
                weight, pair = weight[weight >= least], pair[weight >= least]
        rows = np.sort(self._partners.rows[pair], axis=1)
        keep = weight > best - within
        rows, weight = rows[keep], weight[keep]
        out: IntArray = rows[np.lexsort((rows[:, 1], rows[:, 0], -weight))[:most]]
        return out

    def every(self) -> IntArray:
        """Return all pairs, as `promising` does, in order of their members."""
        i, j = np.nonzero(np.isfinite(self._shared) & self._partners.upper())
        rows = np.sort(self._partners.rows[np.stack([i, j], axis=1)], axis=1)
        out: IntArray = rows[np.lexsort((rows[:, 1], rows[:, 0]))]
        return out

    def weight(self, one: int, other: int) -> float:
        """Return the estimated weight of the pair of two hypotheses."""
        place = self._partners.place
        i, j = sorted((place[one], place[other]))
        own = self.log_prior + self.gain
        return float(own[one] + own[other] + self.beside - self._shared[i, j])

    def rest(self, weighed: IntArray, best: float) -> tuple[float, FloatArray]:
        """Return what all pairs but some come to.

        Parameters
        ----------
        weighed : ndarray of intp, shape (n, 2)
            Hypotheses of the pairs left out.
        best : float
            Weight that counts as one in the sums.

        Returns
        -------
        float
            The sum.
        ndarray of float, shape (n_hypotheses,)
            The part of it in which each hypothesis is true.
        """
        rows = self._partners.rows
        places, own = self._own()
        by_place = np.zeros(len(rows))
        for start, block in self._blocks(own, weighed):
            if float(block.max()) < best - NOTHING:
                continue
            with np.errstate(under="ignore"):
                share = np.exp(block - np.float32(best))
            by_place[start : start + len(block)] += share.sum(axis=1)
            by_place[start:places] += share.sum(axis=0)
        if places < len(rows):
            weight = np.exp((self.log_prior + self.gain)[rows] - best / 2)
            by_place += self._partners.with_moved(
                weight, float(np.exp(self.beside)), self._partners.place[weighed]
            )
        by_row = np.zeros(len(self.log_prior))
        by_row[rows] = by_place
        return float(by_place.sum()) / 2, by_row

    def _own(self) -> tuple[int, FloatArray]:
        """Return how many places are looked at one by one, and each one's own weight.

        Until something was read while the loom was moved, no finding touches a contact
        that opens only then: what its pairs come to follows from its prior.
        """
        partners = self._partners
        places = len(partners.rows) if self.any_moving else partners.rested
        own = (self.log_prior + self.gain)[partners.rows[:places]]
        return places, own.astype(np.float32)

    def _blocks(
        self, own: FloatArray, weighed: IntArray
    ) -> Iterator[tuple[int, FloatArray]]:
        """Yield weights, some rows of places at a time, from the diagonal on.

        Those of the pairs weighed exactly are nothing.
        """
        places = len(own)
        out = np.sort(self._partners.place[weighed].reshape(-1, 2), axis=1)
        out = out[out[:, 1] < places]
        other = own + np.float32(self.beside)
        for start in range(0, places, BLOCK):
            stop = min(start + BLOCK, places)
            block = own[start:stop, None] + other[None, start:]
            block -= self._shared[start:stop, start:places]
            inside = out[(out[:, 0] >= start) & (out[:, 0] < stop)]
            block[inside[:, 0] - start, inside[:, 1] - start] = -np.inf
            yield start, block


def in_steps(weight: FloatArray) -> FloatArray:
    """Return weights in whole steps."""
    out: FloatArray = np.round(weight / STEP) * STEP
    return out


def _fuses_of(predictions: Predictions) -> IntArray:
    """Return the row of the blown fuse that each short has left, 0 for none."""
    row_of = {fault: row for row, fault in enumerate(predictions.faults)}
    out = np.zeros(len(predictions.faults), dtype=np.intp)
    for fault, gone in predictions.opened_by.items():
        out[row_of[fault]] = row_of[Fault(min(gone), "blown")]
    return out


@dataclass(frozen=True)
class Members:
    """What a finding says of some faults, and of the fuses that they have blown."""

    own: NDArray[np.float32]
    left: NDArray[np.float32]


def _together(
    one: Members, other: Members, hides: BoolArray, hidden: BoolArray
) -> NDArray[np.float32]:
    """Return what a finding says of two faults together, for all pairs of members.

    Parameters
    ----------
    one, other : Members
    hides, hidden : ndarray of bool
        Whether the first hides the second, and is hidden by it.
    """
    out = _better_and_worse(one.own, other.own)
    np.copyto(out, _better_and_worse(one.own, other.left), where=hides & ~hidden)
    np.copyto(out, _better_and_worse(one.left, other.own), where=hidden & ~hides)
    # Where each hides the other, either is enough for what is seen.
    np.copyto(out, np.maximum(one.own, other.own), where=hides & hidden)
    return out


def _better_and_worse(
    one: NDArray[np.float32], other: NDArray[np.float32]
) -> NDArray[np.float32]:
    """Return the better explanation of a symptom, the worse one of what is right."""
    out: NDArray[np.float32] = np.clip(
        one + other, np.minimum(one, other), np.maximum(one, other)
    )
    return out
