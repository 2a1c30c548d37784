"""The test that settles which of several doubts is right.

Whatever can be measured around the findings in conflict is tried: the same points with
another tool, and the points beside them. Most welcome is what tells the doubts apart
best, and of that what takes the fewest minutes. Where there is but one doubt, the
finding itself is taken again by another tool or another hand.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from harness.advice import Ranked
from harness.belief import Belief
from harness.circuit import FloatArray
from harness.conflict.drawings import touched_terminals
from harness.conflict.judging import Weighed
from harness.conflict.redrawing import near_wires, terminal_at
from harness.conflict.supposed import Supposed, shown_if
from harness.consumers import consumers
from harness.findings import LAMP_READS, Finding, Test, is_fuse
from harness.information import APART, WORDS_APART, clusters, entropy_bits
from harness.kinds import Fuse
from harness.likelihood import (
    BLUNDER_METER,
    amp_scale,
    eye_chances,
    fuse_chances,
    lamp_chances,
    ohm_scale,
    volt_scale,
)
from harness.minutes import Surroundings, minutes_for
from harness.model import Harness
from harness.network import compile_network
from harness.predictions import lead_off
from harness.rig import Rig, rig_from
from harness.segments import segments_of
from harness.sets import Sets

WIRES_AROUND = 14
RIGS_TRIED = 4
# Of the bits that the best test tells, so many will do if the test is quicker.
ENOUGH = 0.8
LEAST_BITS = 0.05


def settling(
    sets: Sets, belief: Belief, doubts: Sequence[Weighed], around: Surroundings
) -> Ranked | None:
    """Return the test that tells doubts apart best.

    Parameters
    ----------
    sets : Sets
    belief : Belief
    doubts : sequence of Weighed
        With only one, the second hypothesis is that the finding stands.
    around : Surroundings

    Returns
    -------
    Ranked or None
        Its hypotheses are those of `hypotheses`. None where no test around the findings
        tells the doubts apart.
    """
    h = sets.predictions.h
    named = {name for weighed in doubts for name in weighed.doubted}
    findings = [finding for finding in belief.findings if finding.id in named]
    if len(doubts) == 1:
        return _taken_again(sets, findings[0], doubts[0], around)
    points = _points(h, doubts, findings)
    rigs = _rigs(h, belief, points, findings)
    tests = [t for t in _tests_around(h, points, rigs) if t not in around.taken]
    supposed, labels, within = hypotheses(doubts)
    shown = shown_if(sets, tests, supposed)
    # What is likelier matters little here: each doubt is to be cleared up.
    weight = within / len(doubts)
    found = [
        ranked
        for test, row in zip(tests, shown, strict=True)
        if (ranked := _ranked(h, test, row, (labels, weight), around)).bits
        >= LEAST_BITS
    ]
    most = max((ranked.bits for ranked in found), default=0.0)
    enough = [ranked for ranked in found if ranked.bits >= ENOUGH * most]
    return min(enough, key=lambda r: (r.minutes, -r.bits), default=None)


def hypotheses(
    doubts: Sequence[Weighed],
) -> tuple[list[Supposed], NDArray[np.intp], FloatArray]:
    """Return every way of every doubt, whose it is, and its share of that doubt."""
    supposed = [one for weighed in doubts for one, _ in weighed.ways]
    labels = [i for i, weighed in enumerate(doubts) for _ in weighed.ways]
    share = [p for weighed in doubts for _, p in weighed.ways]
    return supposed, np.array(labels, dtype=np.intp), np.array(share)


def _ranked(
    h: Harness,
    test: Test,
    shown: FloatArray,
    asked: tuple[NDArray[np.intp], FloatArray],
    around: Surroundings,
) -> Ranked:
    groups, chances = _outcomes(h, test, shown)
    bits = _told(chances, *asked)
    minutes = minutes_for(h, test, around)
    return Ranked(test, bits, minutes, groups, shown, bits / minutes)


def _told(chances: FloatArray, labels: NDArray[np.intp], weight: FloatArray) -> float:
    """Return how much outcomes tell of which doubt is right, in bits.

    Parameters
    ----------
    chances : ndarray of float, shape (n_outcomes, m)
    labels : ndarray of intp, shape (m,)
    weight : ndarray of float, shape (m,)
    """
    joint = np.zeros((int(labels.max()) + 1, len(chances)))
    np.add.at(joint, labels, (chances * weight).T)
    apart = entropy_bits(joint.sum(axis=0)) + entropy_bits(joint.sum(axis=1))
    return max(float(apart - entropy_bits(joint.ravel())), 0.0)


_SCALES = {"voltmeter": volt_scale, "ohmmeter": ohm_scale, "ammeter": amp_scale}


def _outcomes(
    h: Harness, test: Test, shown: FloatArray
) -> tuple[NDArray[np.intp], FloatArray]:
    """Return the outcome that each hypothesis leads to, and the chances of each."""
    column = shown[:, None]
    if test.tool in _SCALES:
        groups = clusters(_SCALES[test.tool](column), APART)[:, 0]
        count = int(groups.max()) + 1
        hit = groups[None, :] == np.arange(count)[:, None]
        return groups, hit * (1.0 - BLUNDER_METER) + BLUNDER_METER / count
    if test.tool == "test-lamp":
        chances = lamp_chances(column, h.volts)
    else:
        words = fuse_chances if is_fuse(h, test.device) else eye_chances
        chances = words(column)
    groups = clusters(chances[-1] - chances[0], WORDS_APART)[:, 0]
    return groups, chances[:, :, 0]


def _points(
    h: Harness, doubts: Sequence[Weighed], findings: Sequence[Finding]
) -> list[str]:
    """Return the terminals that doubted findings, moved wires and faults touch."""
    points = dict.fromkeys(touched_terminals(h, findings))
    for weighed in doubts:
        for move in weighed.supposed.redrawn.moves:
            drawn = terminal_at(h.wires[move.wire], move.end)
            points |= dict.fromkeys([move.terminal, drawn])
        for fault in weighed.supposed.faults:
            for name in fault.segments:
                points |= dict.fromkeys(segments_of(h)[name].ends)
    return [point for point in points if point in h.terminals]


def _rigs(
    h: Harness, belief: Belief, points: Sequence[str], findings: Sequence[Finding]
) -> list[Rig]:
    """Return the rigs of some findings, and of the latest that touch some points."""
    touching = [
        finding
        for finding in reversed(belief.findings)
        if set(touched_terminals(h, [finding])) & set(points)
    ]
    rigs = dict.fromkeys(f.test.rig for f in (*findings, *touching))
    return list(rigs)[:RIGS_TRIED]


def _tests_around(
    h: Harness, points: Sequence[str], rigs: Sequence[Rig]
) -> Iterator[Test]:
    """Yield the tests on and around some points, in some rigs and all dead."""
    wires = near_wires(h, points, WIRES_AROUND)
    ends = [end for name in wires for end in (h.wires[name].start, h.wires[name].end)]
    near = list(dict.fromkeys([*points, *ends]))
    owners = {point.partition(".")[0] for point in near}
    across = [
        segment.ends
        for segment in segments_of(h).values()
        if segment.owner in owners or segment.owner in wires
    ]
    for rig in rigs:
        yield from _live(h, rig, near, across)
    yield from _dead(h, owners, across)


def _live(
    h: Harness, rig: Rig, points: Sequence[str], across: Sequence[tuple[str, str]]
) -> Iterator[Test]:
    if not rig.battery_connected:
        return
    node = compile_network(h, rig).node_of
    body = h.first_body or h.earthed_pin
    pairs = [(point, body) for point in points] + [*across]
    for probe, clip in dict.fromkeys(pairs):
        if probe in node and clip in node and node[probe] != node[clip]:
            yield Test(rig=rig, tool="voltmeter", probe=probe, clip=clip)
            yield Test(rig=rig, tool="test-lamp", probe=probe, clip=clip)
    for device in dict.fromkeys(c.device for c in consumers(h) if c.rig == rig):
        yield Test(rig=rig, tool="eye", device=device)


def _dead(
    h: Harness, owners: set[str], across: Sequence[tuple[str, str]]
) -> Iterator[Test]:
    """Yield looks at fuses, and ohms over what is near, the battery lead lifted."""
    for owner in sorted(owners):
        if isinstance(h.devices[owner].spec, Fuse):
            yield Test(rig=rig_from(h, {}), tool="eye", device=owner)
    rig = lead_off(h)
    node = compile_network(h, rig).node_of
    for probe, clip in dict.fromkeys(across):
        if node[probe] != node[clip]:
            yield Test(rig=rig, tool="ohmmeter", probe=probe, clip=clip)


def _taken_again(
    sets: Sets, finding: Finding, doubt: Weighed, around: Surroundings
) -> Ranked:
    """Return the finding's own test with another tool, or by another hand."""
    h = sets.predictions.h
    test, stands = _by_another_tool(h, finding)
    shown = float(shown_if(sets, [test], [doubt.supposed])[0, 0])
    values = np.array([shown, np.copysign(stands, shown) if shown else stands])
    asked = np.arange(2, dtype=np.intp), np.full(2, 0.5)
    return _ranked(h, test, values, asked, around)


def _by_another_tool(h: Harness, finding: Finding) -> tuple[Test, float]:
    """Return the test for a second opinion, and what it shows if the finding stands."""
    test = finding.test
    if test.tool == "test-lamp":
        share = dict(zip(LAMP_READS, (1.0, 0.5, 0.0), strict=True))[finding.reads]
        return replace(test, tool="voltmeter"), share * h.volts
    if not np.isnan(finding.value):
        return test, finding.value
    words = {"works": 1.0, "weak": 0.6, "dead": 0.0, "intact": 0.0, "blown": 1.0}
    return test, words[finding.reads]
