"""A verdict on every segment, with its proof and the current that it was proven at.

Sound: some finding would have read otherwise had the segment been open, and what is
left of the belief in it is small. The proof names those findings. A test lamp proves a
path for a quarter of an ampere and no more; a bad contact that would still pass that
keeps the segment suspect as long as the findings leave it likely.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from harness.belief import Belief
from harness.circuit import FloatArray, IntArray
from harness.faults import with_fault
from harness.findings import Finding
from harness.model import Harness
from harness.network import compile_network
from harness.predictions import Predictions, beside
from harness.readings import VOLTMETER_OHM, test_lamp_ohm, with_branch
from harness.segments import Fault, segments_of
from harness.solver import solve_network
from harness.stretches import stretch_of

Verdict = Literal["sound", "suspect", "faulty", "untested"]

FAULTY = 0.95
SUSPECT = 0.01
# The likeliest fault is taken as known from here on, to judge what else is proven.
KNOWN = 0.5
REFUTED = np.log(0.1)
SUPPORTED = np.log(3.0)
_CUT = {"open", "blown", "dead"}


@dataclass(frozen=True, slots=True)
class Judged:
    """What is known of one segment.

    `proven_amps` is the largest current at which a finding in the proof found it to
    carry; None where nothing was proven or no current flowed.
    """

    segment: str
    stretch: str
    verdict: Verdict
    probability: float
    proof: tuple[str, ...]
    proven_amps: float | None


def judge(predictions: Predictions, belief: Belief) -> dict[str, Judged]:
    """Return the verdict on every segment by name."""
    h = predictions.h
    placed = stretch_of(h)
    probability = belief.by_segment()
    worse = worse_when_bad(h, belief)
    out: dict[str, Judged] = {}
    for name in segments_of(h):
        p = probability.get(name, 0.0)
        verdict, which = _verdict(belief, worse, predictions.rows_of[name], p)
        proof = tuple(belief.findings[i].id for i in which)
        amps = None
        if verdict == "sound":
            amps = max((proven_amps(h, belief, i, name) for i in which), default=0.0)
        out[name] = Judged(name, placed[name], verdict, p, proof, amps or None)
    return out


def worse_when_bad(h: Harness, belief: Belief) -> FloatArray:
    """Return how much less likely each finding would be, were a segment bad as well.

    Beside nothing wrong where that explains the finding: a dead horn says nothing of
    the tail lamp's wire, though it makes it unlikely to be the one thing wrong. Beside
    the likeliest fault where only that explains it: a lamp lit behind a horn that has
    lost its earth proves the horn's feed.

    Returns
    -------
    ndarray of float, shape (n_findings, n_hypotheses)
        Logarithms; nothing is proven by a finding that neither explains.
    """
    likely = belief.log_likelihood
    worse: FloatArray = likely - likely[:, :1]
    top = int(belief.log_weight.argmax())
    fault = belief.faults[top]
    best = likely.max(axis=1, initial=-np.inf)
    unexplained = np.flatnonzero(likely[:, 0] - best <= REFUTED)
    worse[unexplained] = 0.0
    if fault is None or belief.probability[top] < KNOWN:
        return worse
    for i in unexplained.tolist():
        if likely[i, top] - best[i] > REFUTED:
            both = beside(h, fault).log_likelihood(belief.findings[i])
            worse[i] = both - both[0]
    return worse


def _verdict(
    belief: Belief, worse: FloatArray, rows: IntArray, p: float
) -> tuple[Verdict, list[int]]:
    supporting = _supporting(belief, rows)
    if p >= SUSPECT and supporting:
        return ("faulty" if p >= FAULTY else "suspect"), supporting
    cut = [r for r in rows.tolist() if _mode(belief, r) in _CUT] or rows.tolist()
    refuting = np.flatnonzero((worse[:, cut] <= REFUTED).all(axis=1)).tolist()
    return ("sound" if refuting else "untested"), refuting


def _mode(belief: Belief, row: int) -> str:
    fault = belief.faults[row]
    return fault.mode if fault is not None else ""


def _supporting(belief: Belief, rows: IntArray) -> list[int]:
    """Return the findings that speak for the likeliest way for a segment to be bad."""
    row = rows[np.argmax(belief.log_weight[rows])]
    gain = belief.log_likelihood[:, row] - belief.log_likelihood[:, 0]
    return np.flatnonzero(gain > SUPPORTED).tolist()


def proven_amps(h: Harness, belief: Belief, number: int, segment: str) -> float:
    """Return the current through a segment while a finding was taken.

    It is solved with the instrument in for nothing wrong and for the likeliest fault,
    whichever explain the finding, and the smaller counts: a lamp lit before a horn that
    is dead proves the lamp's current, not the horn's.
    """
    finding = belief.findings[number]
    likely = belief.log_likelihood[number]
    top = int(belief.log_weight.argmax())
    rows = [row for row in (0, top) if likely[row] - likely.max() >= REFUTED]
    return min(
        currents_during(h, finding, belief.faults[row]).get(segment, 0.0)
        for row in rows or [top]
    )


_REMEMBERED: dict[tuple[str, object, Fault | None], dict[str, float]] = {}
_REMEMBERED_MOST = 2048


def currents_during(
    h: Harness, finding: Finding, fault: Fault | None
) -> dict[str, float]:
    """Return the size of the current in each segment while a finding was taken."""
    test = finding.test
    place = test.rig if test.tool == "eye" else test
    key = (h.digest, place, fault)
    if key not in _REMEMBERED:
        if len(_REMEMBERED) >= _REMEMBERED_MOST:
            _REMEMBERED.clear()
        _REMEMBERED[key] = _solve_currents(h, finding, fault)
    return _REMEMBERED[key]


def _solve_currents(
    h: Harness, finding: Finding, fault: Fault | None
) -> dict[str, float]:
    test = finding.test
    net = compile_network(h, test.rig)
    ends = [net.node_of[t] for t in (test.probe, test.clip) if t]
    if fault is not None:
        net = with_fault(h, net, fault)
    if test.tool in {"test-lamp", "voltmeter"}:
        ohm = test_lamp_ohm(h.volts) if test.tool == "test-lamp" else VOLTMETER_OHM
        net = with_branch(net, ends[0], ends[1], ohm)
    solution = solve_network(net)
    return dict(
        zip(net.segments, (abs(a) for a in solution.amps.tolist()), strict=True)
    )
