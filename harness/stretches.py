"""Which stretch of the loom a segment lies in: what a technician checks in order."""

from functools import lru_cache

import numpy as np

from harness.circuit import Network
from harness.consumers import ordinary_rigs
from harness.kinds import Lamp, Load, Motor
from harness.model import Harness
from harness.network import compile_network
from harness.segments import Segment, segments_of
from harness.solver import islands, solve_network

STRETCHES = ("standing feed", "switched feed", "consumers", "return")


@lru_cache(maxsize=32)
def stretch_of(h: Harness) -> dict[str, str]:
    """Return the stretch of each segment by its name.

    Return is what meets the battery's earthed pole without passing a consumer in some
    ordinary rig; standing feed what meets the other pole with everything at rest;
    switched feed what meets it only in some other ordinary rig. What never meets
    either pole is counted with the consumers.
    """
    placed: dict[str, str] = {}
    consuming = {s.name for s in segments_of(h).values() if _consumes(h, s)}
    for number, rig in enumerate(ordinary_rigs(h)):
        net = compile_network(h, rig)
        feed_word = "standing feed" if number == 0 else "switched feed"
        feed, earth = _sides(h, net, consuming)
        for k, name in enumerate(net.segments):
            a, b = net.a[k], net.b[k]
            if earth[a] or earth[b]:
                placed[name] = "return"
            elif feed[a] or feed[b]:
                placed.setdefault(name, feed_word)
    sources = {s.name for s in segments_of(h).values() if s.kind in _SOURCES}
    placed |= dict.fromkeys(sources, "standing feed")
    placed |= dict.fromkeys(consuming, "consumers")
    return {name: placed.get(name, "consumers") for name in segments_of(h)}


_SOURCES = {"battery", "charger"}


def _consumes(h: Harness, segment: Segment) -> bool:
    if segment.kind == "relay":
        return segment.name.endswith(".coil")
    owner = h.devices.get(segment.owner) if segment.kind == "device" else None
    return owner is not None and isinstance(owner.spec, Lamp | Load | Motor)


def _sides(
    h: Harness, net: Network, consuming: set[str]
) -> tuple[np.ndarray[tuple[int], np.dtype[np.bool_]], ...]:
    """Return which nodes meet the feed pole, and which the earthed one."""
    kinds = [name.partition(":")[0] for name in net.segments]
    through = np.array(
        [
            name not in consuming and kind not in _SOURCES
            for name, kind in zip(net.segments, kinds, strict=True)
        ]
    )
    labels = islands(net, solve_network(net).on & through)
    feed = labels == labels[net.node_of[h.feed_pin]]
    earth = labels == labels[net.node_of[h.earthed_pin]]
    return feed, earth


@lru_cache(maxsize=32)
def terminal_stretches(h: Harness) -> dict[str, str]:
    """Return the stretch of each terminal: that of the segments which meet there."""
    placed = stretch_of(h)
    found: dict[str, str] = {}
    rank = {word: i for i, word in enumerate(("consumers", *STRETCHES[:2], "return"))}
    for segment in segments_of(h).values():
        for end in segment.ends:
            word = placed[segment.name]
            if rank[word] >= rank[found.get(end, "consumers")]:
                found[end] = word
    return found
