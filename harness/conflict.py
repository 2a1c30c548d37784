"""Whether the findings can all be true of the drawing with one fault at most."""

from dataclasses import dataclass

import numpy as np

from harness.belief import Belief
from harness.findings import Finding

# A finding is taken as misread under a hypothesis when another explains it this much
# better, or when nothing explains it better than a blunder would.
MISREAD_RATIO = 0.05
MISREAD_WORD = 0.05
MISREAD_METER = 0.02


@dataclass(frozen=True, slots=True)
class Conflict:
    """The smallest sets of findings of which each must hold a misread one."""

    sets: tuple[tuple[str, ...], ...]


def _explained(finding: Finding) -> float:
    """Return the log likelihood that an honest reading has at least somewhere."""
    return float(np.log(MISREAD_WORD if np.isnan(finding.value) else MISREAD_METER))


def conflict_in(belief: Belief) -> Conflict | None:
    """Return which findings cannot all be true, or None where they can."""
    if not belief.findings:
        return None
    best = belief.log_likelihood.max(axis=1)
    floor = np.array([_explained(finding) for finding in belief.findings])
    reached = np.maximum(best, floor)
    misread = belief.log_likelihood < reached[:, None] + np.log(MISREAD_RATIO)
    if not misread.any(axis=0).all():
        return None
    count = misread.sum(axis=0)
    fewest = np.flatnonzero(count == count.min())
    order = fewest[np.argsort(-belief.log_weight[fewest], kind="stable")]
    sets: list[tuple[str, ...]] = []
    for column in order.tolist():
        names = tuple(
            belief.findings[row].id for row in np.flatnonzero(misread[:, column])
        )
        if names not in sets:
            sets.append(names)
    return Conflict(tuple(sets[:5]))
