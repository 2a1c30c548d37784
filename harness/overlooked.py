"""Sets of faults that the screen has overlooked, looked for where readings disagree.

The screen estimates a pair from its members. Where one changes what the other does to
a reading, the estimate may be far too low; it then looks as if a finding had been
misread. So before a finding is doubted, the explanations that doubt it, and those with
one fault less, are tried with each further fault: on the doubted findings alone, the
others hoped for at best. What promises most is then to be weighed on all.
"""

from collections.abc import Iterator

import numpy as np

from harness.belief import Belief, heaviest_first, rounded, sorted_set
from harness.circuit import BoolArray, FloatArray, IntArray
from harness.segments import on_other_segments
from harness.sets import FaultSet, Sets

# How many explanations are grown, and how many sets weighed on the doubted findings.
GROWN_FROM = 8
MOST_TRIED, MOST_KEPT = 1500, 80
MOST_FAULTS = 3


def overlooked(sets: Sets, belief: Belief, doubted: BoolArray) -> list[FaultSet]:
    """Return sets not weighed yet that may explain what is taken for misread.

    Parameters
    ----------
    sets : Sets
    belief : Belief
    doubted : ndarray of bool, shape (n_findings, n_sets)
        Which findings each set of the belief takes for misread.
    """
    heaviest = heaviest_first(belief.log_weight - belief.log_weight[0])
    grown = heaviest[doubted[:, heaviest].any(axis=0)][:GROWN_FROM]
    asked = np.flatnonzero(doubted[:, grown].any(axis=1))
    tried = _tried(sets, belief, grown, asked)
    if not tried or not asked.size:
        return []
    findings = [belief.findings[i] for i in asked.tolist()]
    new = [faults for faults, _ in tried]
    sound = belief.log_likelihood[asked, :1]
    logs = (sets.log_likelihood(findings, new) - sound).sum(axis=0)
    order = heaviest_first(logs + [promise for _, promise in tried])
    return sorted(new[i] for i in order[:MOST_KEPT].tolist())


def _tried(
    sets: Sets, belief: Belief, grown: IntArray, asked: IntArray
) -> list[tuple[FaultSet, float]]:
    """Return sets not weighed yet, with what they promise but for the doubted findings.

    The most promising first.
    """
    singles = sets.predictions.faults
    rest = np.ones(len(belief.findings), dtype=np.bool_)
    rest[asked] = False
    found: dict[FaultSet, float] = {}
    for row in _with_fewer(belief, grown):
        known = belief.sets[row]
        promise = rounded(_promise(belief, row, rest, len(singles))).tolist()
        for fault, hope in zip(singles, promise, strict=True):
            if fault is None or fault.moved or not on_other_segments(fault, known):
                continue
            faults = sorted_set(*known, fault)
            if faults not in belief.row_of and hope > found.get(faults, -np.inf):
                found[faults] = hope
    best = sorted(found.items(), key=lambda item: (-item[1], item[0]))
    return best[:MOST_TRIED]


def _with_fewer(belief: Belief, grown: IntArray) -> list[int]:
    """Return the rows of some sets, and of those with one fault less, each once."""
    rows: dict[int, None] = {}
    for row in grown.tolist():
        for faults in _parts(belief.sets[row]):
            if faults in belief.row_of and 0 < len(faults) < MOST_FAULTS:
                rows[belief.row_of[faults]] = None
    return list(rows)


def _parts(faults: FaultSet) -> Iterator[FaultSet]:
    yield faults
    for i in range(len(faults)):
        yield (*faults[:i], *faults[i + 1 :])


def _promise(belief: Belief, row: int, rest: BoolArray, count: int) -> FloatArray:
    """Return what each single fault promises beside those of a row.

    Of each finding that is not doubted what the likelier of the two says of it, beside
    what nothing wrong does: one that all predict alike then changes no rounding.
    """
    sound = belief.log_likelihood[rest, :1]
    alone = belief.log_likelihood[rest, :count] - sound
    known = belief.log_likelihood[rest, row, None] - sound
    better: FloatArray = np.maximum(alone, known).sum(axis=0)
    out: FloatArray = better + belief.log_prior[:count] + belief.log_prior[row]
    return out
