"""Belief over no fault and every single fault, in log space.

A test made twice with the same reading counts once: the second reading by the same
hand is not independent evidence. Belief is normalised for show only; whether the
findings can be true together at all is for `conflict.py` to say.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from harness.circuit import FloatArray
from harness.findings import Finding
from harness.predictions import Predictions
from harness.segments import Fault, Mode


@dataclass(frozen=True)
class Belief:
    """Posterior over the hypotheses of `Predictions.faults`.

    Attributes
    ----------
    faults : tuple of Fault or None
    log_prior : ndarray of float, shape (n_hypotheses,)
    log_likelihood : ndarray of float, shape (n_findings, n_hypotheses)
        One row a finding that counts.
    """

    faults: tuple[Fault | None, ...]
    log_prior: FloatArray
    findings: tuple[Finding, ...]
    log_likelihood: FloatArray

    @property
    def log_weight(self) -> FloatArray:
        """Log posterior, not normalised."""
        out: FloatArray = self.log_prior + self.log_likelihood.sum(axis=0)
        return out

    @property
    def probability(self) -> FloatArray:
        """Posterior, summing to one."""
        return normalised(self.log_weight)

    def by_segment(self) -> dict[str, float]:
        """Return the probability that each segment is bad."""
        out: dict[str, float] = {}
        for fault, p in zip(self.faults, self.probability.tolist(), strict=True):
            if fault is not None:
                out[fault.segment] = out.get(fault.segment, 0.0) + p
        return out

    def by_mode(self) -> list[tuple[tuple[str, Mode] | None, float, float]]:
        """Return segment and mode (or None), probability, mean ohms; best first."""
        sums: dict[tuple[str, Mode] | None, tuple[float, float]] = {}
        for fault, p in zip(self.faults, self.probability.tolist(), strict=True):
            key = None if fault is None else (fault.segment, fault.mode)
            ohms = 0.0 if fault is None else fault.ohms
            total, moment = sums.get(key, (0.0, 0.0))
            sums[key] = (total + p, moment + p * ohms)
        ranked = [(k, p, m / p if p > 0 else 0.0) for k, (p, m) in sums.items()]
        return sorted(ranked, key=lambda row: (-row[1], row[0] or ("", "")))


def normalised(log_weight: FloatArray) -> FloatArray:
    """Return weights as probabilities, without overflow."""
    shifted = np.exp(np.maximum(log_weight - log_weight.max(), -700.0))
    out: FloatArray = shifted / shifted.sum()
    return out


def counted(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """Return the findings that are evidence: a repeat of the same reading is not."""
    seen: set[tuple[object, str]] = set()
    out = []
    for finding in findings:
        key = (finding.test, finding.reads)
        if key not in seen:
            seen.add(key)
            out.append(finding)
    return tuple(out)


def believe(
    predictions: Predictions, log_prior: FloatArray, findings: Sequence[Finding]
) -> Belief:
    """Weigh every hypothesis by every finding.

    Parameters
    ----------
    predictions : Predictions
    log_prior : ndarray of float, shape (n_hypotheses,)
    findings : sequence of Finding
        In any order: the result does not depend on it.
    """
    evidence = counted(findings)
    rows = [predictions.log_likelihood(finding) for finding in evidence]
    matrix = np.stack(rows) if rows else np.zeros((0, len(predictions.faults)))
    return Belief(predictions.faults, log_prior, evidence, matrix)
