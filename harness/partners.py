"""Which single faults can be true together, and the order of going through pairs."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from harness.circuit import BoolArray, FloatArray, IntArray
from harness.segments import Fault


@dataclass(frozen=True)
class Partners:
    """The single faults of a harness as members of pairs.

    Attributes
    ----------
    rows : ndarray of intp, shape (n_places,)
        The hypothesis at each place: the intermittent contacts last, nothing wrong not
        at all.
    place : ndarray of intp, shape (n_hypotheses,)
        The place of each hypothesis, -1 for nothing wrong.
    rested : int
        How many places are no intermittent contacts.
    same : ndarray of intp, shape (n, 2)
        Places whose faults share a segment, in both orders, and each with itself.
    """

    rows: IntArray
    place: IntArray
    rested: int
    same: IntArray

    @property
    def count(self) -> int:
        """How many pairs there are."""
        return (len(self.rows) ** 2 - len(self.same)) // 2

    def excluded(self) -> NDArray[np.float32]:
        """Return infinity for places that make no pair, else zero, float32."""
        out = np.zeros((len(self.rows),) * 2, dtype=np.float32)
        out[self.same[:, 0], self.same[:, 1]] = np.inf
        for start in range(len(self.rows)):
            out[start, :start] = np.inf
        return out

    @cached_property
    def _same_moved(self) -> IntArray:
        out: IntArray = self.same[(self.same >= self.rested).any(axis=1)]
        return out

    def upper(self) -> BoolArray:
        """Return which pairs of places are right of the diagonal."""
        return np.triu(np.ones((len(self.rows),) * 2, dtype=np.bool_), 1)

    def with_moved(
        self, weight: FloatArray, beside: float, left_out: IntArray
    ) -> FloatArray:
        """Return what pairs with an intermittent contact come to, by place.

        Parameters
        ----------
        weight : ndarray of float, shape (n_places,)
            What each is worth by itself; such a contact shares nothing with another.
        beside : float
            What a pair is worth beside the product of its members.
        left_out : ndarray of intp, shape (n, 2)
            Pairs of places that do not count.
        """
        moved = np.arange(len(self.rows)) >= self.rested
        partner = np.where(moved, weight.sum(), weight[self.rested :].sum())
        out = left_out[(left_out >= self.rested).any(axis=1)]
        both = np.concatenate([self._same_moved, out, out[:, ::-1]])
        np.subtract.at(partner, both[:, 0], weight[both[:, 1]])
        comes_to: FloatArray = np.maximum(weight * partner * beside, 0.0)
        return comes_to


@lru_cache(maxsize=4)
def partners_for(faults: Sequence[Fault | None]) -> Partners:
    """Return the single faults of a harness as members of pairs."""
    at_rest = [i for i, f in enumerate(faults) if f is not None and not f.moved]
    moved = [i for i, f in enumerate(faults) if f is not None and f.moved]
    rows = np.array([*at_rest, *moved], dtype=np.intp)
    place = np.full(len(faults), -1, dtype=np.intp)
    place[rows] = np.arange(len(rows))
    by_segment: dict[str, list[int]] = {}
    for i in rows.tolist():
        fault = faults[i]
        for segment in fault.segments if fault is not None else ():
            by_segment.setdefault(segment, []).append(int(place[i]))
    same = {(a, b) for some in by_segment.values() for a in some for b in some}
    return Partners(rows, place, len(at_rest), np.array(sorted(same), dtype=np.intp))
