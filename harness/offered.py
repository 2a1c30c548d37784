"""The tests that can be made in a rig, and what they would show.

Lamp and voltmeter with the clip on the body, and on the feed post; across a device, a
contact or a fuse; the ohmmeter with the battery lead lifted; the eye on fuses and on
the consumers that should work.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from harness.circuit import FloatArray
from harness.consumers import consumers
from harness.findings import Test, Tool
from harness.kinds import Fuse
from harness.model import Harness
from harness.network import compile_network
from harness.readings import ohmmeter_ohm, test_lamp_v, voltmeter_v
from harness.rig import Rig
from harness.segments import Segment, segments_of
from harness.sets import FaultSet, Sets
from harness.stretches import terminal_stretches

Pair = tuple[str, str]
SETS_KEPT = 1500


@dataclass
class Block:
    """Tests of one tool in one rig, with what they would show.

    Attributes
    ----------
    shown : dict of FaultSet to ndarray of float32, shape (n_tests,)
        What is known so far.
    """

    tool: Tool
    rig: Rig
    pairs: tuple[Pair, ...] = ()
    devices: tuple[str, ...] = ()
    shown: dict[FaultSet, NDArray[np.float32]] = field(default_factory=dict, repr=False)

    @cached_property
    def tests(self) -> tuple[Test, ...]:
        """All of the tests, in order."""
        if self.tool == "eye":
            return tuple(
                Test(rig=self.rig, tool="eye", device=device) for device in self.devices
            )
        return tuple(
            Test(rig=self.rig, tool=self.tool, probe=probe, clip=clip)
            for probe, clip in self.pairs
        )

    def read(self, sets: Sets, wanted: Sequence[FaultSet]) -> FloatArray:
        """Return what the tests would show under sets of faults.

        Returns
        -------
        ndarray of float, shape (len(wanted), n_tests)
        """
        new = [faults for faults in wanted if faults not in self.shown]
        if len(self.shown) + len(new) > SETS_KEPT:
            self.shown.clear()
            new = list(wanted)
        if new:
            read = self._read(sets, new).astype(np.float32)
            self.shown.update(zip(new, read, strict=True))
        return np.stack([self.shown[faults] for faults in wanted]).astype(np.float64)

    def _read(self, sets: Sets, new: Sequence[FaultSet]) -> FloatArray:
        table = sets.table(self.rig, new)
        if self.tool == "eye":
            return np.stack([sets.read(table, t, new) for t in self.tests], axis=1)
        node = table.net.node_of
        probe = np.array([node[p] for p, _ in self.pairs], dtype=np.intp)
        clip = np.array([node[c] for _, c in self.pairs], dtype=np.intp)
        rows = np.arange(len(new), dtype=np.intp)
        return _INSTRUMENTS[self.tool](table, rows, probe, clip)


_INSTRUMENTS = {
    "test-lamp": test_lamp_v,
    "voltmeter": voltmeter_v,
    "ohmmeter": ohmmeter_ohm,
}


class Offered:
    """Every test offered on a harness, by rig, put together when first asked for."""

    def __init__(self, h: Harness) -> None:
        self.h = h
        self._by_rig: dict[Rig, tuple[Block, ...]] = {}

    def blocks(self, rig: Rig) -> tuple[Block, ...]:
        """Return the tests that can be made in a rig."""
        if rig not in self._by_rig:
            self._by_rig[rig] = _blocks_in(self.h, rig)
        return self._by_rig[rig]


@lru_cache(maxsize=4)
def offered_for(h: Harness) -> Offered:
    """Return the tests offered on a harness, remembered with what they show."""
    return Offered(h)


def _blocks_in(h: Harness, rig: Rig) -> tuple[Block, ...]:
    node = compile_network(h, rig).node_of
    body = h.first_body
    assert body is not None  # noqa: S101 - predictions_for has refused such a loom
    if rig.battery_lead == "off":
        pairs = fuse_ends(h, node, body) + _ohm_pairs(h, node, body)
        return (Block("ohmmeter", rig, tuple(dict.fromkeys(pairs))),)
    places = terminal_stretches(h)
    points = _points(h, node)
    to_body = _pairs(node, points, body)
    to_feed = _pairs(node, points, h.feed_pin)
    returns = tuple(pair for pair in to_feed if places.get(pair[0]) == "return")
    across = _distinct(node, [s.ends for s in _bridged(h, rig)])
    over_consumers = _distinct(
        node, [s.ends for s in segments_of(h).values() if s.kind == "device"]
    )
    blocks = [
        Block("test-lamp", rig, to_body + returns + over_consumers),
        Block("voltmeter", rig, to_body + to_feed + across),
    ]
    if not rig.moved and rig.engine == "stopped":
        fuses = tuple(d.id for d in h.devices.values() if isinstance(d.spec, Fuse))
        blocks.append(Block("eye", rig, devices=fuses))
    seen = tuple(c.device for c in consumers(h) if c.rig == rig)
    blocks.append(Block("eye", rig, devices=seen))
    return tuple(block for block in blocks if block.tests)


def _points(h: Harness, node: dict[str, int]) -> tuple[str, ...]:
    """Return one terminal for each node, in order."""
    first: dict[int, str] = {}
    for terminal in h.terminals:
        first.setdefault(node[terminal], terminal)
    return tuple(first.values())


def _pairs(
    node: dict[str, int], points: tuple[str, ...], clip: str
) -> tuple[Pair, ...]:
    return tuple((probe, clip) for probe in points if node[probe] != node[clip])


def _distinct(node: dict[str, int], pairs: list[Pair]) -> tuple[Pair, ...]:
    return tuple(
        (a, b) for a, b in pairs if a in node and b in node and node[a] != node[b]
    )


def _bridged(h: Harness, rig: Rig) -> list[Segment]:
    """Return the contacts and devices whose two ends can be reached together."""
    out = []
    for segment in segments_of(h).values():
        if segment.kind not in {"device", "fuse", "switch", "plug", "relay", "battery"}:
            continue
        position = segment.name.split(".")[1] if segment.kind == "switch" else ""
        if position and rig.switches[segment.owner] != position:
            continue
        out.append(segment)
    return out


def _ohm_pairs(h: Harness, node: dict[str, int], body: str) -> tuple[Pair, ...]:
    places = terminal_stretches(h)
    returns = [
        (t, body)
        for t in _points(h, node)
        if places.get(t) == "return" and node[t] != node[body] and t != h.earthed_pin
    ]
    own = [
        s.ends
        for s in segments_of(h).values()
        if s.kind in {"device", "fuse"} or s.name.endswith(".coil")
    ]
    return tuple(returns) + _distinct(node, own)


def fuse_ends(h: Harness, node: dict[str, int], body: str) -> tuple[Pair, ...]:
    """Return both ends of each fuse against the body: a short behind it shows there."""
    fuses = [d.id for d in h.devices.values() if isinstance(d.spec, Fuse)]
    return _distinct(node, [(f"{fuse}.{pin}", body) for fuse in fuses for pin in "12"])
