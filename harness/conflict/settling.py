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
from harness.conflict.redrawing import near_wires
from harness.conflict.supposed import shown_if
from harness.consumers import consumers
from harness.findings import LAMP_READS, Finding, Test, is_fuse
from harness.information import (
    APART,
    WORDS_APART,
    clusters,
    gain_of_groups,
    gain_of_words,
)
from harness.kinds import Fuse
from harness.likelihood import (
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
        Outcomes are in the order of `doubts`. None where no test around the findings
        tells them apart.
    """
    h = sets.predictions.h
    named = {name for weighed in doubts for name in weighed.doubted}
    findings = [finding for finding in belief.findings if finding.id in named]
    if len(doubts) == 1:
        return _taken_again(sets, findings[0], doubts[0], around)
    tests = [t for t in _tests_around(h, findings) if t not in around.taken]
    supposed = [weighed.supposed for weighed in doubts]
    shown = shown_if(sets, tests, supposed)
    # What is likelier matters little here: each doubt is to be cleared up.
    weight = np.full(len(doubts), 1.0 / len(doubts))
    found = [
        ranked
        for test, row in zip(tests, shown, strict=True)
        if (ranked := _ranked(h, test, row, weight, around)).bits >= LEAST_BITS
    ]
    most = max((ranked.bits for ranked in found), default=0.0)
    enough = [ranked for ranked in found if ranked.bits >= ENOUGH * most]
    return min(enough, key=lambda r: (r.minutes, -r.bits), default=None)


def _ranked(
    h: Harness, test: Test, shown: FloatArray, weight: FloatArray, around: Surroundings
) -> Ranked:
    groups, bits = _divided(h, test, shown, weight)
    minutes = minutes_for(h, test, around)
    return Ranked(test, bits, minutes, groups, shown, bits / minutes)


_SCALES = {"voltmeter": volt_scale, "ohmmeter": ohm_scale, "ammeter": amp_scale}


def _divided(
    h: Harness, test: Test, shown: FloatArray, weight: FloatArray
) -> tuple[NDArray[np.intp], float]:
    """Return the outcome that each doubt leads to, and how much the test tells."""
    column = shown[:, None]
    if test.tool in _SCALES:
        groups = clusters(_SCALES[test.tool](column), APART)
        return groups[:, 0], float(gain_of_groups(groups, weight)[0])
    if test.tool == "test-lamp":
        chances = lamp_chances(column, h.volts)
    else:
        words = fuse_chances if is_fuse(h, test.device) else eye_chances
        chances = words(column)
    groups = clusters(chances[-1] - chances[0], WORDS_APART)
    return groups[:, 0], float(gain_of_words(chances, weight)[0])


def _tests_around(h: Harness, findings: Sequence[Finding]) -> Iterator[Test]:
    """Yield the tests on and around the points that some findings touch."""
    wires = near_wires(h, touched_terminals(h, findings), WIRES_AROUND)
    ends = [end for name in wires for end in (h.wires[name].start, h.wires[name].end)]
    points = dict.fromkeys([*touched_terminals(h, findings), *ends])
    owners = {point.partition(".")[0] for point in points}
    across = [
        segment.ends
        for segment in segments_of(h).values()
        if segment.owner in owners or segment.owner in wires
    ]
    rigs = dict.fromkeys(f.test.rig for f in findings)
    for rig in list(rigs)[:RIGS_TRIED]:
        yield from _live(h, rig, list(points), across)
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
    return _ranked(h, test, values, np.full(2, 0.5), around)


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
