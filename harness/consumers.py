"""Consumers, and the ordinary rigs in which each of them should work.

An ordinary rig moves as few switches as will put a consumer to work: what a rider does
to see whether it does. It is found on the graph of conductors and proven by solving.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations, product

from harness.faults import segments_of
from harness.kinds import (
    Body,
    Box,
    Charger,
    Diode,
    Fuse,
    Joint,
    Lamp,
    Load,
    Motor,
    Plug,
    Relay,
    Switch,
)
from harness.model import Device, Harness
from harness.network import Network, compile_network
from harness.rig import Rig, rig_from
from harness.solver import Solution, solve_network

MOST_SWITCHES_MOVED = 4
# Enough of nominal volts to call a consumer at work while searching for its rig.
AT_WORK_RATIO = 0.6


@dataclass(frozen=True, slots=True)
class Consumer:
    """Something whose working can be seen or heard.

    `device` is as a finding names it (``rear-lamp.stop``); `rig` is where it works.
    """

    device: str
    segment: str
    name: str
    ends: tuple[str, str]
    rig: Rig


@dataclass(frozen=True, slots=True)
class _Candidate:
    device: str
    segment: str
    name: str
    ends: tuple[str, str]


def _candidates(h: Harness) -> tuple[_Candidate, ...]:
    found = []
    for segment in segments_of(h).values():
        spec = h.devices[segment.owner].spec if segment.kind == "device" else None
        if isinstance(spec, Lamp | Load | Motor):
            device = segment.name.partition(":")[2]
            filament = device.partition(".")[2]
            title = h.devices[segment.owner].title
            name = f"{title}, {filament}" if filament else title
            found.append(_Candidate(device, segment.name, name, segment.ends))
    return tuple(found)


@lru_cache(maxsize=32)
def consumers(h: Harness) -> tuple[Consumer, ...]:
    """Return every consumer with its ordinary rig, sorted by device.

    A consumer that no combination of up to four moved switches puts to work is left
    out: nobody can say whether it should work.
    """
    waiting = {c.device: c for c in _candidates(h)}
    graph = _Conductors(h)
    found: list[Consumer] = []
    for positions in _positions(h):
        hopeful = [c for c in waiting.values() if graph.fed(c.ends, positions)]
        if not hopeful:
            continue
        rig = rig_from(h, dict(positions))
        net = compile_network(h, rig)
        solution = solve_network(net)
        for c in hopeful:
            if _drop(net, solution, c.ends) >= AT_WORK_RATIO * h.volts:
                found.append(Consumer(c.device, c.segment, c.name, c.ends, rig))
                del waiting[c.device]
        if not waiting:
            break
    return tuple(sorted(found, key=lambda consumer: consumer.device))


@lru_cache(maxsize=32)
def ordinary_rigs(h: Harness) -> tuple[Rig, ...]:
    """Return the rest rig, each consumer's rig, and the engine running if it charges.

    Sorted by how many switches they move, then by their positions.
    """
    rigs = {rig_from(h, {})} | {consumer.rig for consumer in consumers(h)}
    if any(isinstance(d.spec, Charger) for d in h.devices.values()):
        rigs.add(_running_rig(h))
    return tuple(
        sorted(rigs, key=lambda r: (len(r.moved) + (r.engine == "running"), r.moved))
    )


def _running_rig(h: Harness) -> Rig:
    """Return the engine running with the key in the first position that feeds most."""
    counts: dict[Rig, int] = {}
    for consumer in consumers(h):
        counts[consumer.rig] = counts.get(consumer.rig, 0) + 1
    fewest = min((len(rig.moved) for rig in counts), default=0)
    simple = [rig for rig in counts if len(rig.moved) == fewest]
    best = max(simple, key=lambda rig: (counts[rig], rig.moved), default=Rig())
    return rig_from(h, {**best.as_mapping(), "engine": "running"})


def _positions(h: Harness) -> Iterator[tuple[tuple[str, str], ...]]:
    switches = [
        (d.id, d.spec.positions[1:])
        for d in h.devices.values()
        if isinstance(d.spec, Switch)
    ]
    for count in range(MOST_SWITCHES_MOVED + 1):
        for chosen in combinations(switches, count):
            for positions in product(*(places for _, places in chosen)):
                ids = (switch_id for switch_id, _ in chosen)
                yield tuple(zip(ids, positions, strict=True))


def _drop(net: Network, solution: Solution, ends: tuple[str, str]) -> float:
    one, two = (net.node_of[end] for end in ends)
    return abs(float(solution.volts[one] - solution.volts[two]))


class _Conductors:
    """What is joined to what without passing through a consumer."""

    def __init__(self, h: Harness) -> None:
        self.h = h
        self.fixed: dict[str, str] = {}
        for wire in h.wires.values():
            self._join(self.fixed, wire.start, wire.end)
        for device in h.devices.values():
            for one, two in _always_joined(device):
                self._join(self.fixed, one, two)
        self.switches = {
            d.id: d.spec for d in h.devices.values() if isinstance(d.spec, Switch)
        }
        self.feed = self._root(self.fixed, h.feed_pin)
        self.earth = self._root(self.fixed, h.earthed_pin)

    @staticmethod
    def _root(parent: dict[str, str], node: str) -> str:
        while (above := parent.get(node, node)) != node:
            node = above
        return node

    def _join(self, parent: dict[str, str], one: str, two: str) -> None:
        parent[self._root(parent, one)] = self._root(parent, two)

    def joined(self, positions: tuple[tuple[str, str], ...]) -> dict[str, str]:
        """Return roots of the static groups, merged by the switch positions."""
        where = dict(positions)
        merged: dict[str, str] = {}
        for switch_id, spec in self.switches.items():
            for first, *rest in spec.groups(where.get(switch_id, spec.positions[0])):
                one = self._root(self.fixed, f"{switch_id}.{first}")
                for pin in rest:
                    two = self._root(self.fixed, f"{switch_id}.{pin}")
                    self._join(merged, one, two)
        return merged

    def fed(
        self, ends: tuple[str, str], positions: tuple[tuple[str, str], ...]
    ) -> bool:
        """Return whether one end meets the feed pole and the other the earthed one."""
        merged = self.joined(positions)
        sides = {self._root(merged, self._root(self.fixed, end)) for end in ends}
        poles = {self._root(merged, self.feed), self._root(merged, self.earth)}
        return sides == poles and len(poles) > 1


def _always_joined(device: Device) -> Iterator[tuple[str, str]]:
    d, spec = device.id, device.spec
    match spec:
        case Fuse():
            yield f"{d}.1", f"{d}.2"
        case Diode():
            yield f"{d}.a", f"{d}.k"
        case Plug():
            for cavity in spec.cavities:
                yield f"{d}.{cavity}a", f"{d}.{cavity}b"
        case Joint() | Body():
            for pin in device.pins:
                yield f"{d}.{pin}", f"{d}.*"
        case Box():
            for link in spec.links:
                yield f"{d}.{link.between[0]}", f"{d}.{link.between[1]}"
        case Relay():
            yield f"{d}.30", f"{d}.87"
            if spec.has_break_contact:
                yield f"{d}.30", f"{d}.87a"
        case _:
            return
