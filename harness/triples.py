"""Sets of three faults, grown from the best pairs by a third one."""

from collections.abc import Sequence

import numpy as np

from harness.belief import Belief, heaviest_first, rounded, sorted_set
from harness.circuit import FloatArray, IntArray
from harness.segments import Fault, on_other_segments
from harness.sets import FaultSet

PAIR = 2
GROWN_FROM, MOST_TRIPLES = 12, 60


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
        weight = rounded(gain + own + belief.log_prior[row])
        for i in heaviest_first(weight)[: 3 * MOST_TRIPLES].tolist():
            third = faults[i]
            if third is None or np.isneginf(weight[i]):
                continue
            if on_other_segments(third, belief.sets[row]):
                found[sorted_set(*belief.sets[row], third)] = float(weight[i])
    best = sorted(found.items(), key=lambda item: (-item[1], item[0]))
    return [members for members, _ in best[:MOST_TRIPLES]]


def _best_pairs(belief: Belief) -> list[int]:
    rows: IntArray = np.array(
        [i for i, members in enumerate(belief.sets) if len(members) == PAIR],
        dtype=np.intp,
    )
    order = heaviest_first(belief.log_weight[rows] - belief.log_weight[0])
    best: list[int] = rows[order[:GROWN_FROM]].tolist()
    return best
