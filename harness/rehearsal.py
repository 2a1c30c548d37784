"""Every single fault played against the advice, and against two habits of the trade.

The rider's report is what the eye says of every consumer in every ordinary rig. Then
the advice is followed, each test answered by the solver with the fault in, without
noise, until a class of faults that no offered test tells apart stands at 0.95.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from harness.advice import isolation, minutes_for, surroundings, survey
from harness.belief import believe
from harness.circuit import FloatArray
from harness.consumers import consumers, ordinary_rigs
from harness.findings import EYE_READS, FUSE_READS, LAMP_READS, Finding, Test, is_fuse
from harness.habits import Habits
from harness.likelihood import eye_chances, fuse_chances, lamp_chances
from harness.model import Harness
from harness.predictions import Predictions, predictions_for
from harness.priors import log_priors
from harness.segments import Fault

MOST_TESTS = 40


@dataclass(frozen=True, slots=True)
class Played:
    """One fault played through.

    `weight` is its prior among all noticeable faults, not normalised.
    """

    fault: Fault
    weight: float
    isolated: bool
    suspects: int
    tests: int
    minutes: float
    walking_tests: int
    halving_tests: int


def answer(predictions: Predictions, test: Test, row: int) -> Finding:
    """Return the finding that a hypothesis gives, without noise."""
    shown = predictions.shown(test)[row : row + 1]
    if test.tool == "test-lamp":
        word = LAMP_READS[int(lamp_chances(shown, predictions.h.volts)[:, 0].argmax())]
        return Finding("", test, word)
    if test.tool == "eye":
        fuse = is_fuse(predictions.h, test.device)
        words = FUSE_READS if fuse else EYE_READS
        chances = fuse_chances(shown) if fuse else eye_chances(shown)
        return Finding("", test, words[int(chances[:, 0].argmax())])
    value = float(shown[0])
    return Finding("", test, "open" if np.isinf(value) else f"{value:g}", value)


def report_tests(h: Harness) -> tuple[Test, ...]:
    """Return the looks that make a rider's report: every consumer, every rig."""
    devices = sorted({c.device for c in consumers(h)})
    return tuple(
        Test(rig=rig, tool="eye", device=device)
        for rig in ordinary_rigs(h)
        for device in devices
    )


class Report:
    """What a rider reports under every hypothesis, and what that says of all others.

    Attributes
    ----------
    words : ndarray of intp, shape (n_tests, n_hypotheses)
        Index of the word that the eye finds.
    noticeable : tuple of int
        Hypotheses whose report differs from that of nothing wrong; those that come to
        no steady state are left out.
    """

    def __init__(self, predictions: Predictions) -> None:
        self.tests = report_tests(predictions.h)
        shown = np.stack([predictions.shown(test) for test in self.tests])
        chances = eye_chances(shown)
        self.words = chances.argmax(axis=0)
        self._logs = np.log(chances)
        steady = ~np.isnan(shown).any(axis=0)
        differs = (self.words != self.words[:, :1]).any(axis=0)
        self.noticeable = tuple(np.flatnonzero(differs & steady).tolist())

    def evidence(self, row: int) -> FloatArray:
        """Return the log likelihood of one hypothesis's report under all of them."""
        picked = self._logs[self.words[:, row], np.arange(len(self.tests))]
        out: FloatArray = picked.sum(axis=0)
        return out


def play(
    predictions: Predictions,
    log_prior: FloatArray,
    report: Report,
    row: int,
    habits: Habits,
) -> Played:
    """Play one fault through."""
    h = predictions.h
    fault = predictions.faults[row]
    if fault is None:
        raise ValueError("there is nothing to find in a healthy bike")
    informed = log_prior + report.evidence(row)
    findings: list[Finding] = []
    minutes = 0.0
    while True:
        belief = believe(predictions, informed, findings)
        around = surroundings(h, findings)
        around = replace(around, taken=around.taken | set(report.tests))
        seen = survey(predictions, belief, around)
        found = isolation(belief, seen)
        if found is not None or not seen.ranked or len(findings) >= MOST_TESTS:
            break
        test = seen.ranked[0].test
        minutes += minutes_for(h, test, around)
        findings.append(answer(predictions, test, row))
    return Played(
        fault=fault,
        weight=float(np.exp(log_prior[row])),
        isolated=found is not None and fault.segment in found[0],
        suspects=len(found[0]) if found else 0,
        tests=len(findings),
        minutes=minutes,
        walking_tests=habits.walking(row),
        halving_tests=habits.halving(row),
    )


def play_all(h: Harness) -> list[Played]:
    """Play every noticeable single fault, in order."""
    predictions = predictions_for(h)
    report = Report(predictions)
    log_prior, habits = log_priors(h), Habits(predictions)
    return [
        play(predictions, log_prior, report, row, habits) for row in report.noticeable
    ]


def weighted_mean(played: Sequence[Played], values: Sequence[float]) -> float:
    """Return the mean of some values, weighted by the priors of the faults."""
    return float(np.average(values, weights=[p.weight for p in played]))
