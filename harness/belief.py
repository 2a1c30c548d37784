"""Belief over no fault, every single fault and every pair of faults, in log space.

Hypotheses are sets of faults. Those that matter are weighed exactly, one row each; the
pairs that the screen finds too light for that count with their estimates as a rest, so
that nothing is renormalised away. A test made twice with the same reading counts once:
the second reading by the same hand is not independent evidence.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from harness.circuit import FloatArray, IntArray
from harness.findings import Finding
from harness.segments import Fault, Mode
from harness.sets import FaultSet

# Segment, mode, and the neighbour that a crossed one meets.
Way = tuple[str, Mode, str]
# Sums of logarithms differ in less than this with the order of what is added.
DECIMALS = 3


@dataclass(frozen=True)
class Rest:
    """The pairs that were not weighed exactly.

    Attributes
    ----------
    log_weight : float
        Of all of them together, -inf for none.
    by_segment : dict of str to float
        The share of that weight in which each segment is bad.
    by_meeting : dict of frozenset of str to float
        The share in which two segments are bad because they meet.
    """

    log_weight: float
    by_segment: dict[str, float]
    by_meeting: dict[frozenset[str], float] = field(default_factory=dict)


NO_REST = Rest(float("-inf"), {})


@dataclass(frozen=True)
class Belief:
    """Posterior over sets of faults.

    Attributes
    ----------
    sets : tuple of tuple of Fault
        One row each, the empty one first.
    log_prior : ndarray of float, shape (n_sets,)
    findings : tuple of Finding
        Those that count.
    log_likelihood : ndarray of float, shape (n_findings, n_sets)
    rest : Rest
    """

    sets: tuple[FaultSet, ...]
    log_prior: FloatArray
    findings: tuple[Finding, ...]
    log_likelihood: FloatArray
    rest: Rest = NO_REST

    @cached_property
    def log_weight(self) -> FloatArray:
        """Log posterior, not normalised."""
        out: FloatArray = self.log_prior + self.log_likelihood.sum(axis=0)
        return out

    @cached_property
    def log_total(self) -> float:
        """Log weight of everything together."""
        top = float(self.log_weight.max())
        rows = float(np.exp(np.maximum(self.log_weight - top, -700.0)).sum())
        return float(np.logaddexp(top + np.log(rows), self.rest.log_weight))

    @cached_property
    def probability(self) -> FloatArray:
        """Posterior of each row; with `unweighed` it sums to one."""
        out: FloatArray = np.exp(np.maximum(self.log_weight - self.log_total, -700.0))
        return out

    @property
    def unweighed(self) -> float:
        """Probability of the pairs that are only estimated."""
        return float(np.exp(self.rest.log_weight - self.log_total))

    @property
    def top(self) -> int:
        """The likeliest row."""
        return int(self.log_weight.argmax())

    def by_segment(self) -> dict[str, float]:
        """Return the probability that each segment is bad."""
        share = self.unweighed
        out = {name: share * part for name, part in self.rest.by_segment.items()}
        for faults, p in zip(self.sets, self.probability.tolist(), strict=True):
            for fault in faults:
                for segment in fault.segments:
                    out[segment] = out.get(segment, 0.0) + p
        return out

    def explanations(self) -> list[tuple[tuple[Way, ...], float, FaultSet]]:
        """Return ways of being bad, their probability and their likeliest set.

        Sizes of a bad contact and the times at which it is bad count as one way. Best
        first.
        """
        sums: dict[tuple[Way, ...], float] = {}
        likeliest: dict[tuple[Way, ...], tuple[float, FaultSet]] = {}
        for faults, p in zip(self.sets, self.probability.tolist(), strict=True):
            key = tuple((f.segment, f.mode, f.other) for f in faults)
            sums[key] = sums.get(key, 0.0) + p
            if key not in likeliest or p > likeliest[key][0]:
                likeliest[key] = (p, faults)
        ranked = sorted(sums.items(), key=lambda item: (-item[1], item[0]))
        return [(key, p, likeliest[key][1]) for key, p in ranked]

    def rows_of(self, segment: str) -> list[int]:
        """Return the rows of single faults in which a segment is bad."""
        return self._single_rows.get(segment, [])

    @cached_property
    def row_of(self) -> dict[FaultSet, int]:
        """The row of each set."""
        return {faults: row for row, faults in enumerate(self.sets)}

    @cached_property
    def _single_rows(self) -> dict[str, list[int]]:
        rows: dict[str, list[int]] = {}
        for i, faults in enumerate(self.sets):
            if len(faults) == 1:
                for segment in faults[0].segments:
                    rows.setdefault(segment, []).append(i)
        return rows


def counted(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """Return the findings that are evidence: a repeat of the same reading is not."""
    seen: set[tuple[object, str, bool]] = set()
    out = []
    for finding in findings:
        key = (finding.test, finding.reads, finding.moving)
        if key not in seen:
            seen.add(key)
            out.append(finding)
    return tuple(out)


def rounded(weight: FloatArray) -> FloatArray:
    """Return weights as they are compared, whatever order the findings came in."""
    out: FloatArray = np.round(weight, DECIMALS)
    return out


def heaviest_first(weight: FloatArray) -> IntArray:
    """Return the places of weights, the heaviest first; of equals the first."""
    order: IntArray = np.argsort(-rounded(weight), kind="stable")
    return order


def sorted_set(*faults: Fault) -> FaultSet:
    """Return faults as one hypothesis."""
    return tuple(sorted(faults))
