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
MOST_DRAWINGS = 160
# How many drawings are tried beside a single fault, and how many faults with each.
MOST_BESIDE, FAULTS_BESIDE = 48, 2


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
    drawn = redrawings(h, wires)[:MOST_DRAWINGS]
    if not drawn:
        return []
    alone = [Supposed(redrawn) for redrawn in drawn]
    logs = log_likelihood_if(sets, belief.findings, alone)
    both = _beside(belief, drawn, logs)
    more = log_likelihood_if(sets, belief.findings, both)
    return _honest(h, belief, beside, [*alone, *both], np.hstack([logs, more]))


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
    belief: Belief, drawn: Sequence[Redrawn], logs: FloatArray
) -> list[Supposed]:
    """Return the drawings beside single faults that promise most together.

    What a finding says of both is estimated from what it says of each, as the screen
    does for pairs.
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
    promise = together.sum(axis=0) + belief.log_prior[rows]
    chosen: list[tuple[float, Supposed]] = []
    best = np.argsort(-promise, axis=1, kind="stable")[:, :FAULTS_BESIDE]
    for i, redrawn in enumerate(drawn):
        for j in best[i].tolist():
            faults = belief.sets[rows[j]]
            if not set(faults[0].segments) & set(redrawn.segments):
                chosen.append((float(promise[i, j]), Supposed(redrawn, faults)))
    chosen.sort(key=lambda item: -item[0])
    return [supposed for _, supposed in chosen[:MOST_BESIDE]]


def _honest(
    h: Harness,
    belief: Belief,
    beside: float,
    supposed: Sequence[Supposed],
    logs: FloatArray,
) -> list[DrawingDoubt]:
    """Return each drawing once that takes no finding for a slip."""
    slips = are_slips(h, belief.findings, logs).any(axis=0)
    prior = float(np.log(DRAWN_WRONG / count_of_redrawings(h)))
    weight = logs.sum(axis=0) + prior
    found: dict[Redrawn, DrawingDoubt] = {}
    for i in np.flatnonzero(~slips).tolist():
        one, total = supposed[i], float(weight[i])
        if one.faults:
            total += float(belief.log_prior[belief.row_of[one.faults]]) + beside
        known = found.get(one.redrawn)
        if known is None or total > known.log_weight:
            found[one.redrawn] = DrawingDoubt(one.redrawn, one.faults, total)
    return sorted(found.values(), key=lambda doubt: (-doubt.log_weight, doubt.redrawn))
