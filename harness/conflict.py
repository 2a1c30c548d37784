"""Whether the findings can all be true of the drawing with as many faults as are looked for."""

from dataclasses import dataclass

import numpy as np

from harness.belief import Belief
from harness.misread import misread

@dataclass(frozen=True, slots=True)
class Conflict:
    """The smallest sets of findings of which each must hold a misread one."""

    sets: tuple[tuple[str, ...], ...]


def conflict_in(belief: Belief) -> Conflict | None:
    """Return which findings cannot all be true, or None where they can."""
    if not belief.findings:
        return None
    doubted = misread(belief)
    if not doubted.any(axis=0).all():
        return None
    count = doubted.sum(axis=0)
    fewest = np.flatnonzero(count == count.min())
    order = fewest[np.argsort(-belief.log_weight[fewest], kind="stable")]
    sets: list[tuple[str, ...]] = []
    for column in order.tolist():
        names = tuple(
            belief.findings[row].id for row in np.flatnonzero(doubted[:, column])
        )
        if names not in sets:
            sets.append(names)
    return Conflict(tuple(sets[:5]))
