"""Tests beyond those offered that would tell alike faults apart, or show an unseen one.

They want something more of the technician: a probe pushed into the middle of a
connector, a meter across a wire's both ends, a clamp round it, or its end pulled off.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from harness.circuit import FloatArray
from harness.consumers import ordinary_rigs
from harness.findings import Test
from harness.information import clusters, entropy_bits
from harness.kinds import Body
from harness.minutes import Surroundings, minutes_for
from harness.model import Harness
from harness.network import compile_network
from harness.rehearsal.differences import places
from harness.rig import Rig, rig_from
from harness.segments import Segment, segments_of
from harness.sets import FaultSet, Sets
from harness.words import (
    device_words,
    rig_words,
    segment_words,
    terminal_words,
    test_words,
)

NOWHERE = Surroundings(Rig(), frozenset(), frozenset())


@dataclass(frozen=True)
class Probe:
    """What would tell some faults apart, in words.

    Attributes
    ----------
    test : Test or None
        None where only parting or changing something helps.
    """

    test: Test | None
    words: str


def probe_for(sets: Sets, wanted: Sequence[FaultSet], weight: FloatArray) -> Probe:
    """Return what divides some sets of faults best, and takes least time.

    Parameters
    ----------
    sets : Sets
    wanted : sequence of tuple of Fault
    weight : ndarray of float, shape (len(wanted),)
        How likely each is.
    """
    h = sets.predictions.h
    names = {s for faults in wanted for f in faults for s in f.segments}
    segments = [segments_of(h)[name] for name in sorted(names)]
    best: tuple[float, float] = (0.0, 0.0)
    found: Test | None = None
    for test in _candidates(h, segments):
        shown = sets.shown([test], wanted)[0]
        at = places(h, test, np.where(np.isnan(shown), shown[0], shown))
        if np.isnan(at).any():
            continue
        of_labels = np.bincount(clusters(at[:, None], 1.0)[:, 0], weights=weight)
        bits = round(float(entropy_bits(of_labels / of_labels.sum())), 6)
        worth = (bits, -minutes_for(h, test, NOWHERE))
        if bits > 0.0 and worth > best:
            best, found = worth, test
    return Probe(found, _asked(h, found) if found else _parting(h, segments))


def _candidates(h: Harness, segments: Sequence[Segment]) -> Iterator[Test]:
    body = h.first_body
    if body is None:
        return
    ends = tuple(dict.fromkeys(end for s in segments for end in s.ends))
    middles = [end for end in ends if end.endswith(".*") and not _is_metal(h, end)]
    for rig in ordinary_rigs(h):
        node = compile_network(h, rig).node_of
        for middle in middles:
            if middle in node:
                yield Test(rig, "voltmeter", middle, body)
        for segment in segments:
            one, other = segment.ends
            if node.get(one, -1) != node.get(other, -1) and {one, other} <= node.keys():
                yield Test(rig, "voltmeter", one, other)
            if segment.kind == "wire" and _can_be_clamped(h, segment):
                yield Test(rig, "ammeter", wire=segment.owner)
    yield from _pulled(h, [end for end in ends if end not in middles], body)


def _pulled(h: Harness, ends: Sequence[str], body: str) -> Iterator[Test]:
    """Yield ohms to the body with the battery lead lifted, as it is and pin by pin."""
    pins = [end for end in ends if not _is_metal(h, end)]
    for off in ((), *((pin,) for pin in pins if pin != h.earthed_pin)):
        rig = rig_from(h, {"battery-lead": "off", "unplugged": list(off)})
        node = compile_network(h, rig).node_of
        for pin in pins:
            if node[pin] != node[body]:
                yield Test(rig, "ohmmeter", pin, body)


def _is_metal(h: Harness, terminal: str) -> bool:
    return isinstance(h.devices[terminal.partition(".")[0]].spec, Body)


def _can_be_clamped(h: Harness, segment: Segment) -> bool:
    return h.wires[segment.owner].kind != "mount"


def _asked(h: Harness, test: Test) -> str:
    """Return the test in words; the middle of a connector is no pin of the drawing."""
    if not any(end.endswith(".*") and not _is_metal(h, end) for end in _held(test)):
        return test_words(h, test)
    one, other = (_place_words(h, end) for end in (test.clip, test.probe))
    return f"voltmeter from {one} to {other}, {rig_words(h, test.rig)}"


def _held(test: Test) -> tuple[str, ...]:
    return tuple(end for end in (test.clip, test.probe) if end)


def _place_words(h: Harness, terminal: str) -> str:
    if not terminal.endswith(".*") or _is_metal(h, terminal):
        return terminal_words(h, terminal)
    inside = device_words(h, terminal.partition(".")[0])
    return f"a probe pushed into the middle of {inside}"


def _parting(h: Harness, segments: Sequence[Segment]) -> str:
    """Return what helps where no reading does."""
    ends = [set(segment.ends) for segment in segments]
    shared = sorted(set.intersection(*ends)) if ends else []
    if len(segments) > 1 and shared:
        where = terminal_words(h, shared[0])
        return f"part them at {where} and try each by itself"
    if len(segments) > 1:
        return f"change or bridge {segment_words(h, segments[0].name)} on trial"
    return f"take {segment_words(h, segments[0].name)} off and try it by itself"
