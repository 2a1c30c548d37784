"""Sets of three faults, grown from the best pairs by a third one."""

from collections.abc import Sequence

import numpy as np

from harness.belief import Belief, sorted_set
from harness.circuit import FloatArray, IntArray
from harness.segments import Fault
from harness.sets import FaultSet

PAIR = 2
GROWN_FROM, MOST_TRIPLES = 12, 60
# Weights are compared rounded, so that the order of the findings decides nothing.
DECIMALS = 3


def triples(
    belief: Belief, faults: Sequence[Fault | None], own: FloatArray
) -> list[FaultSet]:
    """Return the sets of three worth weighing, the most promising first.

    Parameters
    ----------
    belief : Belief
        Its first rows are those of the single faults.
    faults : sequence of Fault or None
        The hypotheses: None for nothing wrong, then every single fault.
    own : ndarray of float, shape (n_hypotheses,)
        What each may add by its prior, -inf for those that may not.
    """
    sound = belief.log_likelihood[:, :1]
    alone = belief.log_likelihood[:, : len(faults)] - sound
    found: dict[FaultSet, float] = {}
    for row in _best_pairs(belief):
        both = belief.log_likelihood[:, [row]] - sound
        low, high = np.minimum(alone, both), np.maximum(alone, both)
        gain = np.clip(alone + both, low, high).sum(axis=0)
        weight = np.round(gain + own + belief.log_prior[row], DECIMALS)
        for i in np.argsort(-weight, kind="stable")[: 3 * MOST_TRIPLES].tolist():
            third = faults[i]
            if third is not None and _may_join(third, belief.sets[row], weight[i]):
                found[sorted_set(*belief.sets[row], third)] = float(weight[i])
    best = sorted(found.items(), key=lambda item: (-item[1], item[0]))
    return [members for members, _ in best[:MOST_TRIPLES]]


def _best_pairs(belief: Belief) -> list[int]:
    rows: IntArray = np.array(
        [i for i, members in enumerate(belief.sets) if len(members) == PAIR],
        dtype=np.intp,
    )
    weight = np.round(belief.log_weight[rows] - belief.log_weight[0], DECIMALS)
    order = np.argsort(-weight, kind="stable")[:GROWN_FROM]
    best: list[int] = rows[order].tolist()
    return best


def _may_join(third: Fault, pair: FaultSet, weight: float) -> bool:
    taken = {name for fault in pair for name in fault.segments}
    return bool(np.isfinite(weight)) and not taken & set(third.segments)
