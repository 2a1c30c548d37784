"""A verdict on every segment, with its proof and the current that it was proven at.

Sound: some finding would have read otherwise had the segment been open, and what is
left of the belief in it is small. The proof names those findings. A test lamp proves a
path for a quarter of an ampere and no more; a bad contact that would still pass that
keeps the segment suspect as long as the findings leave it likely.
"""

from dataclasses import dataclass
from functools import cache, partial
from typing import Literal

import numpy as np

from harness.belief import Belief
from harness.circuit import BoolArray, FloatArray
from harness.conflict.slips import are_slips
from harness.faults import with_faults
from harness.findings import Finding
from harness.model import Harness
from harness.network import compile_network
from harness.readings import VOLTMETER_OHM, test_lamp_ohm, with_branch
from harness.segments import Fault, segments_of
from harness.sets import FaultSet, Sets
from harness.solver import solve_network
from harness.stretches import stretch_of

Verdict = Literal["sound", "suspect", "faulty", "untested"]

FAULTY = 0.95
SUSPECT = 0.01
# The likeliest fault is taken as known from here on, to judge what else is proven.
KNOWN = 0.5
REFUTED = np.log(0.1)
SUPPORTED = np.log(3.0)
# A finding so likely to be a slip proves nothing.
DOUBTED = 0.5
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


def judge(sets: Sets, belief: Belief) -> dict[str, Judged]:
    """Return the verdict on every segment by name."""
    h = sets.predictions.h
    placed = stretch_of(h)
    probability = belief.by_segment()
    worse = worse_when_bad(sets, belief)
    likeliest = _likeliest_rows(belief)
    flowed = cache(partial(_flowed, h, belief))
    out: dict[str, Judged] = {}
    for name in segments_of(h):
        p = probability.get(name, 0.0)
        supporting = _supporting(belief, name, likeliest[name])
        verdict, which = _verdict(worse[:, _cut_rows(belief, name)], supporting, p)
        proof = tuple(belief.findings[i].id for i in which)
        amps = None
        if verdict == "sound":
            amps = max(
                (min(each.get(name, 0.0) for each in flowed(i)) for i in which),
                default=0.0,
            )
        out[name] = Judged(name, placed[name], verdict, p, proof, amps or None)
    return out


def worse_when_bad(sets: Sets, belief: Belief) -> FloatArray:
    """Return how much less likely each finding would be, were a segment bad as well.

    Beside nothing wrong where that explains the finding: a dead horn says nothing of
    the tail lamp's wire, though it makes it unlikely to be the one thing wrong. Beside
    the likeliest faults where only they explain it: a lamp lit behind a horn that has
    lost its earth proves the horn's feed.

    Returns
    -------
    ndarray of float, shape (n_findings, n_singles)
        Logarithms; nothing is proven by a finding that neither explains, nor by one
        that is likelier a slip than not.
    """
    h = sets.predictions.h
    count = len(sets.predictions.faults)
    likely = belief.log_likelihood[:, :count]
    worse: FloatArray = likely - likely[:, :1]
    doubted = doubted_findings(h, belief)
    worse[doubted] = 0.0
    top = belief.top
    best = belief.log_likelihood.max(axis=1, initial=-np.inf)
    unexplained = np.flatnonzero(likely[:, 0] - best <= REFUTED)
    worse[unexplained] = 0.0
    if not belief.sets[top] or belief.probability[top] < KNOWN:
        return worse
    explained = belief.log_likelihood[unexplained, top] - best[unexplained] > REFUTED
    asked = unexplained[explained & ~doubted[unexplained]]
    if asked.size:
        rows = [r for r in range(1, count) if is_cut(belief.sets[r][0])]
        worse[np.ix_(asked, rows)] = _beside(sets, belief, asked.tolist(), rows)
    return worse


def doubted_findings(h: Harness, belief: Belief) -> BoolArray:
    """Return which findings are likelier slips than honest readings."""
    if not belief.findings:
        return np.zeros(0, dtype=np.bool_)
    slips = are_slips(h, belief.findings, belief.log_likelihood)
    out: BoolArray = slips @ belief.probability > DOUBTED
    return out


def _beside(
    sets: Sets, belief: Belief, findings: list[int], rows: list[int]
) -> FloatArray:
    """Return how much worse findings would be with one more fault than the likeliest.

    A segment that is among the likeliest faults is not asked about.
    """
    known, digest = belief.sets[belief.top], sets.predictions.h.digest
    asked = [belief.findings[i] for i in findings]
    keys = [(digest, (f.test, f.reads, f.moving), known) for f in asked]
    new = [i for i, key in enumerate(keys) if key not in _BESIDE]
    if len(_BESIDE) + len(new) > _BESIDE_MOST:
        _BESIDE.clear()
        new = list(range(len(keys)))
    if new:
        worse = _with_one_more(sets, belief, [asked[i] for i in new], rows)
        _BESIDE.update(zip([keys[i] for i in new], worse, strict=True))
    return np.array([_BESIDE[key] for key in keys])


# Findings stay and the likeliest faults seldom change: what one more fault would have
# done to a finding is worked out once.
_BESIDE: dict[tuple[str, object, FaultSet], FloatArray] = {}
_BESIDE_MOST = 1024


def _with_one_more(
    sets: Sets, belief: Belief, findings: list[Finding], rows: list[int]
) -> FloatArray:
    known = belief.sets[belief.top]
    taken = {s for fault in known for s in fault.segments}
    more = [
        known if taken & set(belief.sets[r][0].segments) else (*known, *belief.sets[r])
        for r in rows
    ]
    both = sets.log_likelihood(findings, [known, *more])
    out: FloatArray = both[:, 1:] - both[:, :1]
    return out


def _cut_rows(belief: Belief, segment: str) -> list[int]:
    rows = belief.rows_of(segment)
    return [r for r in rows if is_cut(belief.sets[r][0])] or rows


def is_cut(fault: Fault) -> bool:
    """Return whether a fault parts its segment for good."""
    return fault.mode in _CUT and not fault.moved


def _verdict(
    worse: FloatArray, supporting: list[int], p: float
) -> tuple[Verdict, list[int]]:
    if p >= SUSPECT and supporting:
        return ("faulty" if p >= FAULTY else "suspect"), supporting
    refuting = np.flatnonzero((worse <= REFUTED).all(axis=1)).tolist()
    return ("sound" if refuting else "untested"), refuting


def _likeliest_rows(belief: Belief) -> dict[str, int]:
    """Return the likeliest row in which each segment is bad."""
    found: dict[str, int] = {}
    for row in np.argsort(belief.log_weight, kind="stable").tolist():
        for fault in belief.sets[row]:
            found.update(dict.fromkeys(fault.segments, row))
    return found


def _supporting(belief: Belief, segment: str, row: int) -> list[int]:
    """Return the findings that speak for the likeliest way for a segment to be bad.

    They are better explained than by the same faults without that of the segment.
    """
    others = tuple(f for f in belief.sets[row] if segment not in f.segments)
    without = belief.row_of.get(others, 0)
    gain = belief.log_likelihood[:, row] - belief.log_likelihood[:, without]
    return np.flatnonzero(gain > SUPPORTED).tolist()


def _flowed(h: Harness, belief: Belief, number: int) -> list[dict[str, float]]:
    """Return the currents that may have flowed in each segment for a finding.

    Solved with the instrument in, for nothing wrong and for the likeliest fault,
    whichever explain the finding. Of the two the smaller is proven: a lamp lit before a
    horn that is dead proves the lamp's current, not the horn's.
    """
    finding = belief.findings[number]
    likely = belief.log_likelihood[number]
    top = belief.top
    rows = [row for row in (0, top) if likely[row] - likely.max() >= REFUTED]
    return [currents_during(h, finding, belief.sets[row]) for row in rows or [top]]


_REMEMBERED: dict[tuple[str, object, FaultSet], dict[str, float]] = {}
_REMEMBERED_MOST = 2048


def currents_during(h: Harness, finding: Finding, faults: FaultSet) -> dict[str, float]:
    """Return the size of the current in each segment while a finding was taken."""
    test = finding.test
    place = test.rig if test.tool == "eye" else test
    key = (h.digest, place, faults)
    if key not in _REMEMBERED:
        if len(_REMEMBERED) >= _REMEMBERED_MOST:
            _REMEMBERED.clear()
        _REMEMBERED[key] = _solve_currents(h, finding, faults)
    return _REMEMBERED[key]


def _solve_currents(h: Harness, finding: Finding, faults: FaultSet) -> dict[str, float]:
    test = finding.test
    net = compile_network(h, test.rig)
    ends = [net.node_of[t] for t in (test.probe, test.clip) if t]
    net = with_faults(h, net, faults)
    if test.tool in {"test-lamp", "voltmeter"}:
        ohm = test_lamp_ohm(h.volts) if test.tool == "test-lamp" else VOLTMETER_OHM
        net = with_branch(net, ends[0], ends[1], ohm)
    solution = solve_network(net)
    return dict(
        zip(net.segments, (abs(a) for a in solution.amps.tolist()), strict=True)
    )
