"""Which explanations no offered test tells apart, and how likely they are together."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from harness.belief import Belief
from harness.circuit import FloatArray, IntArray
from harness.information import entropy_bits
from harness.sets import FaultSet

CONSIDERED = 1e-3
MOST_CONSIDERED = 160
# From here on the suspects are taken to be it.
ISOLATED = 0.95
# When a second fault that some finding speaks for is likelier than this leaves, the
# hunt goes on.
NOTHING_MORE = 0.93
# A blown fuse is not blamed while a short behind it is likelier than this: a new one is
# not fitted before it is known why the old one blew (check value Z6).
SHORT_BEHIND = 0.008
# Thousands of explanations less likely than this come to nothing.
NEGLIGIBLE = 1e-10


@dataclass(frozen=True)
class Suspects:
    """The likeliest explanation and all that no offered test tells apart from it.

    Attributes
    ----------
    segments : tuple of str
        Empty where nothing is wrong is the likeliest.
    probability : float
        That all the segments of one such explanation are bad.
    nothing_more : float
        The share of that in which nothing else is wrong that a finding speaks for.
    alike : tuple of tuple of Fault
        The sets of faults that make them up.
    entropy_bits : float
        Of all classes of explanations considered.
    short_behind : float
        Where a blown fuse is the likeliest, the probability of a short that is none of
        them.
    """

    segments: tuple[str, ...]
    probability: float
    nothing_more: float
    alike: tuple[FaultSet, ...]
    entropy_bits: float
    short_behind: float = 0.0

    @property
    def groups(self) -> tuple[tuple[str, ...], ...]:
        """Each explanation that is left, as the segments that are bad with it."""
        bad = dict.fromkeys(_bad_in(faults) for faults in self.alike)
        fewest = (g for g in bad if g and not any(other < g for other in bad))
        return tuple(sorted(tuple(sorted(group)) for group in fewest))

    @property
    def isolated(self) -> bool:
        """Whether the hunt is over."""
        return (
            bool(self.segments)
            and self.probability >= ISOLATED
            and self.nothing_more >= NOTHING_MORE
            and self.short_behind <= SHORT_BEHIND
        )

    def hold(self, faults: FaultSet) -> bool:
        """Return whether one of some faults is among them, or none where none is."""
        if not self.segments:
            return not faults
        return any(s in self.segments for fault in faults for s in fault.segments)


def considered(belief: Belief) -> tuple[IntArray, FloatArray]:
    """Return the rows still worth telling apart, and their weights."""
    p = belief.probability
    rows = np.flatnonzero(p > CONSIDERED * p.max())
    if rows.size > MOST_CONSIDERED:
        rows = np.sort(rows[np.argsort(-p[rows], kind="stable")[:MOST_CONSIDERED]])
    weight: FloatArray = p[rows] / p[rows].sum()
    return rows, weight


def suspects_in(belief: Belief, rows: IntArray, alike: NDArray[np.intp]) -> Suspects:
    """Return the suspects.

    Parameters
    ----------
    belief : Belief
    rows : ndarray of intp, shape (m,)
        Those considered; the likeliest is among them.
    alike : ndarray of intp, shape (m,)
        Equal for rows that no offered test tells apart.
    """
    top = belief.top
    same = rows[alike == alike[rows == top]].tolist()
    sets = tuple(belief.sets[row] for row in same)
    p = belief.probability
    of_classes = np.bincount(alike, weights=p[rows])
    bits = float(entropy_bits(of_classes / of_classes.sum()))
    if not belief.sets[top]:
        return Suspects((), float(p[same].sum()), 1.0, sets, bits)
    groups = tuple(
        dict.fromkeys(
            frozenset(s for f in faults for s in f.segments) for faults in sets
        )
    )
    # What takes one more fault than another of them is no suspect of its own.
    fewest = [g for g in groups if not any(other < g for other in groups)]
    names = tuple(sorted(frozenset().union(*fewest)))
    weighed, rest = _any_bad(belief, groups)
    likely = np.flatnonzero(p > NEGLIGIBLE).tolist()
    exactly = [row for row in likely if _bad_in(belief.sets[row]) in groups]
    more = float(p[exactly].sum()) / max(weighed, 1e-12)
    short = 0.0
    if any(f.mode == "blown" for f in belief.sets[top]):
        others = set(likely) - set(exactly)
        shorted = [r for r in others if any(f.is_short for f in belief.sets[r])]
        short = float(p[shorted].sum())
    return Suspects(names, min(weighed + rest, 1.0), more, sets, bits, short)


def _any_bad(belief: Belief, groups: Sequence[frozenset[str]]) -> tuple[float, float]:
    """Return the probability that all segments of some group are bad.

    Once of the sets weighed exactly, once of the rest.
    """
    likely = np.flatnonzero(belief.probability > NEGLIGIBLE).tolist()
    bad = [_bad_in(belief.sets[row]) for row in likely]
    inside = [any(group <= segments for group in groups) for segments in bad]
    total = float(belief.probability[likely][inside].sum())
    alone = {next(iter(group)) for group in groups if len(group) == 1}
    rest = sum(belief.rest.by_segment.get(name, 0.0) for name in alone)
    meeting = [g for g in groups if not g & alone]
    rest += sum(belief.rest.by_meeting.get(group, 0.0) for group in meeting)
    return total, belief.unweighed * min(rest, 1.0)


def _bad_in(faults: FaultSet) -> frozenset[str]:
    return frozenset(s for fault in faults for s in fault.segments)


def ways_of(sets: Sequence[FaultSet]) -> NDArray[np.intp]:
    """Give numbers to sets; those that differ in the size of a fault have the same."""
    seen: dict[tuple[tuple[str, str, str], ...], int] = {}
    keys = (tuple((f.segment, f.mode, f.other) for f in faults) for faults in sets)
    return np.array([seen.setdefault(key, len(seen)) for key in keys], dtype=np.intp)
