"""Which drawings, other by one wire, would make every finding honest.

Each is weighed alone and beside the single faults that explain best what it leaves
open. The work is bounded: only wires around the findings in conflict are moved.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from harness.belief import Belief
from harness.circuit import FloatArray
from harness.conflict.redrawing import (
    Redrawn,
    count_of_redrawings,
    near_wires,
    redrawings,
)
from harness.conflict.slips import are_slips
from harness.conflict.supposed import Supposed, log_likelihood_if
from harness.findings import Finding, Test, segment_seen
from harness.model import Harness
from harness.segments import segments_of
from harness.sets import FaultSet, Sets

# How often a loom of this age differs from its drawing by a wire, beside how often it
# has a fault; common practice, no source.
DRAWN_WRONG = 0.01
MOST_WIRES = 24
MOST_DRAWINGS = 240
# How many drawings are tried beside a single fault, and how many faults with each.
MOST_BESIDE, FAULTS_BESIDE = 32, 2
# A drawing goes when what reads as it should is less likely by this with it.
REFUTED = -12.0
# A drawing with a fault goes when it promises less than this beside the best without.
HOPELESS = np.log(0.001)


@dataclass(frozen=True, slots=True)
class DrawingDoubt:
    """A drawing, other by one wire, under which every finding is honest.

    Attributes
    ----------
    redrawn : Redrawn
    standing : tuple of Fault
        What is wrong with the bike beside that; nothing, or a single fault.
    log_weight : float
        On the scale of the belief's.
    """

    redrawn: Redrawn
    standing: FaultSet
    log_weight: float


def drawing_doubts(
    sets: Sets, belief: Belief, beside: float, conflicting: Sequence[str]
) -> list[DrawingDoubt]:
    """Return the drawings under which all findings are honest, likeliest first.

    Parameters
    ----------
    sets : Sets
    belief : Belief
    beside : float
        What a fault adds beside something else that is wrong, to the log priors.
    conflicting : sequence of str
        The findings that cannot all be true.
    """
    h = sets.predictions.h
    named = [finding for finding in belief.findings if finding.id in conflicting]
    wires = near_wires(h, touched_terminals(h, named), MOST_WIRES)
    every = redrawings(h, wires)[:MOST_DRAWINGS]
    drawn, logs = _not_refuted(sets, belief, every, named)
    if not drawn:
        return []
    alone = [Supposed(redrawn) for redrawn in drawn]
    found = _honest(h, belief, beside, alone, logs)
    least = found[0].log_weight if found else -np.inf
    both = _beside(h, belief, beside, drawn, logs, least)
    if both:
        more = log_likelihood_if(sets, belief.findings, both)
        found += _honest(h, belief, beside, both, more)
    return _likeliest_of_each(found)


def _not_refuted(
    sets: Sets, belief: Belief, drawn: Sequence[Redrawn], named: Sequence[Finding]
) -> tuple[list[Redrawn], FloatArray]:
    """Drop drawings that would have made findings read otherwise that are as drawn.

    Rig by rig, those of the findings in conflict first, so that most go early.

    Returns
    -------
    list of Redrawn
    ndarray of float, shape (n_findings, n_kept)
        How likely each finding is with them alone.
    """
    findings = belief.findings
    sound = belief.log_likelihood[:, 0]
    healthy = ~are_slips(sets.predictions.h, findings, sound[:, None])[:, 0]
    rigs = dict.fromkeys(f.test.rig for f in (*named, *findings))
    kept, logs = list(drawn), np.zeros((len(findings), len(drawn)))
    loss = np.zeros(len(drawn))
    for rig in rigs:
        if not kept:
            break
        here = [i for i, f in enumerate(findings) if f.test.rig == rig]
        some = [Supposed(redrawn) for redrawn in kept]
        logs[here] = log_likelihood_if(sets, [findings[i] for i in here], some)
        change = np.where(healthy[here, None], logs[here] - sound[here, None], 0.0)
        loss = loss + np.minimum(change, 0.0).sum(axis=0)
        stay = loss > REFUTED
        kept = [redrawn for redrawn, stays in zip(kept, stay, strict=True) if stays]
        logs, loss = logs[:, stay], loss[stay]
    return kept, logs


def touched_terminals(h: Harness, findings: Sequence[Finding]) -> tuple[str, ...]:
    """Return the terminals that some findings touch, each once."""
    every = (end for finding in findings for end in _touched(h, finding.test))
    return tuple(dict.fromkeys(every))


def _touched(h: Harness, test: Test) -> tuple[str, ...]:
    if test.tool == "eye":
        return segments_of(h)[segment_seen(h, test.device)].ends
    if test.tool == "ammeter":
        return (h.wires[test.wire].start, h.wires[test.wire].end)
    return (test.probe, test.clip)


def _beside(
    h: Harness,
    belief: Belief,
    beside: float,
    drawn: Sequence[Redrawn],
    logs: FloatArray,
    least: float,
) -> list[Supposed]:
    """Return the drawings beside single faults that promise most together.

    What a finding says of both is estimated from what it says of each, as the screen
    does for pairs. What promises nothing beside a weight already found is left out.
    """
    rows = [
        row
        for row, faults in enumerate(belief.sets)
        if len(faults) == 1 and not faults[0].moved
    ]
    sound = belief.log_likelihood[:, :1]
    one = (logs - sound)[:, :, None]
    other = (belief.log_likelihood[:, rows] - sound)[:, None, :]
    together = np.clip(one + other, np.minimum(one, other), np.maximum(one, other))
    promise = together.sum(axis=0) + belief.log_prior[rows] + beside
    promise += sound.sum() + _log_prior(h)
    chosen: list[tuple[float, Supposed]] = []
    best = np.argsort(-promise, axis=1, kind="stable")[:, :FAULTS_BESIDE]
    for i, redrawn in enumerate(drawn):
        for j in best[i].tolist():
            faults = belief.sets[rows[j]]
            hopeless = promise[i, j] < least + HOPELESS
            if not hopeless and not set(faults[0].segments) & set(redrawn.segments):
                chosen.append((float(promise[i, j]), Supposed(redrawn, faults)))
    chosen.sort(key=lambda item: -item[0])
    return [supposed for _, supposed in chosen[:MOST_BESIDE]]


def _log_prior(h: Harness) -> float:
    """Return how likely each drawing is before anything is known."""
    return float(np.log(DRAWN_WRONG / count_of_redrawings(h)))


def _honest(
    h: Harness,
    belief: Belief,
    beside: float,
    supposed: Sequence[Supposed],
    logs: FloatArray,
) -> list[DrawingDoubt]:
    """Return the suppositions that take no finding for a slip, likeliest first."""
    slips = are_slips(h, belief.findings, logs).any(axis=0)
    weight = logs.sum(axis=0) + _log_prior(h)
    found = []
    for i in np.flatnonzero(~slips).tolist():
        one, total = supposed[i], float(weight[i])
        if one.faults:
            total += float(belief.log_prior[belief.row_of[one.faults]]) + beside
        found.append(DrawingDoubt(one.redrawn, one.faults, total))
    return sorted(found, key=lambda doubt: (-doubt.log_weight, doubt.redrawn))


def _likeliest_of_each(found: Sequence[DrawingDoubt]) -> list[DrawingDoubt]:
    """Return each drawing once, with what is likeliest beside it."""
    ranked = sorted(found, key=lambda doubt: (-doubt.log_weight, doubt.redrawn))
    first: dict[Redrawn, DrawingDoubt] = {}
    for doubt in ranked:
        first.setdefault(doubt.redrawn, doubt)
    return list(first.values())
