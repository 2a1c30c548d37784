"""The tests that can be made in a rig, and what they would show.

Lamp and voltmeter with the clip on the body, and on the feed post; across a device, a
contact or a fuse; the ohmmeter with the battery lead lifted; the eye on fuses and on
the consumers that should work.
"""

from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np

from harness.belief import Belief
from harness.circuit import FloatArray, IntArray
from harness.consumers import consumers
from harness.findings import Test, Tool
from harness.kinds import Fuse
from harness.model import Harness
from harness.predictions import (
    Predictions,
    predictions_for,
)
from harness.readings import ohmmeter_ohm, test_lamp_v, voltmeter_v
from harness.rig import Rig
from harness.segments import Segment, segments_of
from harness.sets import FaultSet, Sets
from harness.stretches import terminal_stretches
from harness.tables import RigTable

Pair = tuple[str, str]
SETS_KEPT = 4000


@dataclass
class Block:
    """Tests of one tool in one rig, with what they would show.

    Attributes
    ----------
    shown : ndarray of float32, shape (n_hypotheses, n_tests)
    known : ndarray of bool, shape (n_hypotheses,)
        Which rows of `shown` have been worked out.
    """

    tool: Tool
    rig: Rig
    pairs: tuple[Pair, ...]
    devices: tuple[str, ...]
    shown: np.ndarray[tuple[int, int], np.dtype[np.float32]] = field(repr=False)
    known: np.ndarray[tuple[int], np.dtype[np.bool_]] = field(repr=False)
    of_sets: dict[FaultSet, FloatArray] = field(default_factory=dict, repr=False)

    def test(self, number: int) -> Test:
        """Return one of the tests."""
        if self.tool == "eye":
            return Test(rig=self.rig, tool="eye", device=self.devices[number])
        probe, clip = self.pairs[number]
        return Test(rig=self.rig, tool=self.tool, probe=probe, clip=clip)

    @property
    def tests(self) -> tuple[Test, ...]:
        """All of the tests."""
        return tuple(self.test(i) for i in range(self.shown.shape[1]))

    def read(self, sets: Sets, belief: Belief, rows: IntArray) -> FloatArray:
        """Return what the tests would show for some rows of a belief.

        Returns
        -------
        ndarray of float, shape (len(rows), n_tests)
        """
        singles = rows[rows < len(self.known)]
        missing = singles[~self.known[singles]]
        if missing.size:
            self.shown[missing] = self._singles(sets, missing)
            self.known[missing] = True
        out = np.empty((len(rows), self.shown.shape[1]))
        out[rows < len(self.known)] = self.shown[singles]
        others = [belief.sets[row] for row in rows[rows >= len(self.known)].tolist()]
        if others:
            out[rows >= len(self.known)] = self._sets(sets, others)
        return out

    def _singles(self, sets: Sets, rows: IntArray) -> FloatArray:
        table = sets.predictions.table(self.rig)
        if self.tool == "eye":
            shown = [sets.predictions.shown(test)[rows] for test in self.tests]
            return np.stack(shown, axis=1)
        return self._pairs(table, rows)

    def _sets(self, sets: Sets, wanted: list[FaultSet]) -> FloatArray:
        new = [faults for faults in wanted if faults not in self.of_sets]
        if len(self.of_sets) > SETS_KEPT:
            self.of_sets.clear()
            new = wanted
        if new:
            if self.tool == "eye":
                shown = sets.shown(self.tests, new).T
            else:
                table = sets.table(self.rig, new)
                shown = self._pairs(table, np.arange(len(new), dtype=np.intp))
            self.of_sets.update(zip(new, shown, strict=True))
        return np.stack([self.of_sets[faults] for faults in wanted])

    def _pairs(self, table: RigTable, rows: IntArray) -> FloatArray:
        node = table.net.node_of
        probe = np.array([node[p] for p, _ in self.pairs], dtype=np.intp)
        clip = np.array([node[c] for _, c in self.pairs], dtype=np.intp)
        read = {
            "test-lamp": test_lamp_v,
            "voltmeter": voltmeter_v,
            "ohmmeter": ohmmeter_ohm,
        }[self.tool]
        return read(table, rows, probe, clip)


def _block(
    p: Predictions,
    tool: Tool,
    rig: Rig,
    pairs: tuple[Pair, ...] = (),
    devices: tuple[str, ...] = (),
) -> Block:
    count = len(p.faults)
    width = len(devices) if tool == "eye" else len(pairs)
    return Block(
        tool=tool,
        rig=rig,
        pairs=pairs,
        devices=devices,
        shown=np.full((count, width), np.nan, dtype=np.float32),
        known=np.zeros(count, dtype=bool),
    )


class Offered:
    """Every test offered on a harness, by rig, put together when first asked for."""

    def __init__(self, predictions: Predictions) -> None:
        self.predictions = predictions
        self._by_rig: dict[Rig, tuple[Block, ...]] = {}

    def blocks(self, rig: Rig) -> tuple[Block, ...]:
        """Return the tests that can be made in a rig."""
        if rig not in self._by_rig:
            self._by_rig[rig] = _blocks_in(self.predictions, rig)
        return self._by_rig[rig]


@lru_cache(maxsize=4)
def offered_for(h: Harness) -> Offered:
    """Return the tests offered on a harness, remembered with what they show."""
    return Offered(predictions_for(h))


def _blocks_in(p: Predictions, rig: Rig) -> tuple[Block, ...]:
    h = p.h
    node = p.table(rig).net.node_of
    body = h.first_body
    assert body is not None  # noqa: S101 - predictions_for has refused such a loom
    if rig.battery_lead == "off":
        return (_block(p, "ohmmeter", rig, _ohm_pairs(h, node, body)),)
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
        _block(p, "test-lamp", rig, to_body + returns + over_consumers),
        _block(p, "voltmeter", rig, to_body + to_feed + across),
    ]
    if not rig.moved and rig.engine == "stopped":
        fuses = tuple(d.id for d in h.devices.values() if isinstance(d.spec, Fuse))
        blocks.append(_block(p, "eye", rig, devices=fuses))
    seen = tuple(c.device for c in consumers(h) if c.rig == rig)
    blocks.append(_block(p, "eye", rig, devices=seen))
    return tuple(block for block in blocks if block.shown.shape[1])


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
