"""Findings and drawing held against each other: what to doubt, each with its weight.

The belief itself stays as it is: it is a belief about faults of the bike as drawn. What
a drawing that differs by one wire is worth beside it is said apart.
"""

from dataclasses import dataclass, replace

import numpy as np

from harness.belief import Belief
from harness.conflict.doubts import (
    WORTH_NAMING,
    Conflict,
    Doubt,
    conflict_in,
    with_one_fault,
)
from harness.conflict.drawings import DRAWN_WRONG, DrawingDoubt, drawing_doubts
from harness.conflict.redrawing import count_of_redrawings
from harness.conflict.supposed import AS_DRAWN, Supposed
from harness.model import Harness
from harness.sets import Sets

# So likely must a wire not as drawn be before it is held against two faults at once
# that explain everything.
DRAWING_LIKELIER = 0.95
DRAWINGS_NAMED = 3
# Doubts less likely than this are not told, but for the likeliest two.
WORTH_TOLD, AT_LEAST = 1e-3, 2


@dataclass(frozen=True, slots=True)
class Weighed:
    """One of the things that may be so, and its share among all of them.

    Attributes
    ----------
    ways : tuple of (Supposed, float)
        How it may come about, likeliest first, with shares that sum to one.
    doubted : tuple of str
        The findings that are misread then.
    probability : float
    """

    ways: tuple[tuple[Supposed, float], ...]
    doubted: tuple[str, ...]
    probability: float

    @property
    def supposed(self) -> Supposed:
        """The likeliest way."""
        return self.ways[0][0]


def judged_conflict(sets: Sets, belief: Belief, beside: float) -> Conflict | None:
    """Return what to doubt, drawings among it, or None where all can be true.

    Parameters
    ----------
    sets : Sets
    belief : Belief
    beside : float
        What a fault adds beside something else that is wrong, to the log priors.
    """
    h = sets.predictions.h
    found = conflict_in(h, belief)
    if found is not None:
        drawings = drawing_doubts(sets, belief, beside, found.findings)
        return replace(found, drawings=_worth_naming(belief, drawings))
    if len(belief.sets[belief.top]) < 2 or not _may_be_likelier(h, belief):  # noqa: PLR2004 - two faults at once
        return None
    found = with_one_fault(h, belief)
    if found is None:
        return None
    drawings = drawing_doubts(sets, belief, beside, found.findings)
    if _share(belief, drawings) < DRAWING_LIKELIER:
        return None
    several = belief.sets[belief.top]
    return replace(found, drawings=_worth_naming(belief, drawings), several=several)


def _may_be_likelier(h: Harness, belief: Belief) -> bool:
    """Return whether any drawing could be, did it explain everything at best."""
    best = belief.log_likelihood.max(axis=1).sum()
    most = np.log(DRAWN_WRONG / count_of_redrawings(h)) + best
    return bool(most > belief.log_total)


def _share(belief: Belief, drawings: list[DrawingDoubt]) -> float:
    """Return how likely drawings are together, beside all of the belief."""
    if not drawings:
        return 0.0
    weight = np.logaddexp.reduce([doubt.log_weight for doubt in drawings])
    return float(np.exp(weight - np.logaddexp(weight, belief.log_total)))


def _worth_naming(
    belief: Belief, drawings: list[DrawingDoubt]
) -> tuple[DrawingDoubt, ...]:
    """Return the likeliest, those left out that are nothing beside the belief."""
    least = belief.log_total + np.log(WORTH_NAMING)
    best = max((doubt.log_weight for doubt in drawings), default=least)
    least = max(least, best + np.log(WORTH_NAMING))
    kept = [doubt for doubt in drawings if doubt.log_weight >= least]
    return tuple(kept[:DRAWINGS_NAMED])


def weighed_doubts(belief: Belief, found: Conflict) -> list[Weighed]:
    """Return the doubts of a conflict worth telling, likeliest first, with shares."""
    logs = [
        belief.log_total + np.log(max(doubt.probability, 1e-300))
        for doubt in found.doubts
    ]
    every = [(_ways(doubt), doubt.findings) for doubt in found.doubts]
    every += [
        (((Supposed(doubt.redrawn, doubt.standing), 1.0),), ())
        for doubt in found.drawings
    ]
    logs += [doubt.log_weight for doubt in found.drawings]
    if found.several:
        every.append((((Supposed(AS_DRAWN, found.several), 1.0),), ()))
        logs.append(float(belief.log_weight[belief.row_of[found.several]]))
    share = np.exp(np.array(logs) - np.logaddexp.reduce(logs)).tolist()
    out = [Weighed(*one, p) for one, p in zip(every, share, strict=True)]
    out.sort(key=lambda weighed: -weighed.probability)
    return [w for i, w in enumerate(out) if i < AT_LEAST or w.probability >= WORTH_TOLD]


def _ways(doubt: Doubt) -> tuple[tuple[Supposed, float], ...]:
    total = sum(p for _, p in doubt.ways) or 1.0
    return tuple((Supposed(AS_DRAWN, faults), p / total) for faults, p in doubt.ways)
