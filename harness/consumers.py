"""Consumers, and the ordinary rigs in which each of them should work.

An ordinary rig moves as few switches as will put a consumer to work: what a rider does
to see whether it does. It is found on the graph of conductors and proven by solving.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations, product

from harness.circuit import Network
from harness.kinds import (
    Body,
    Charger,
    Lamp,
    Load,
    Motor,
    Relay,
    Switch,
)
from harness.model import Harness
from harness.network import compile_network
from harness.rig import Rig, rig_from
from harness.segments import segments_of
from harness.solver import Solution, solve_network

MOST_SWITCHES_MOVED = 4
# To try a position of a switch that no consumer's simplest rig tries.
MOST_MOVED_TO_TRY = 3
Positions = tuple[tuple[str, str], ...]
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
    """Return every consumer with an ordinary rig, sorted by device and rig.

    A consumer comes once for its simplest rig, and again for every switch position
    that only another rig tries: a stop lamp has a switch at each brake. One that no
    combination of up to four moved switches puts to work is left out: nobody can say
    whether it should work.
    """
    search = _Search(h)
    for positions in _positions(h):
        search.consider(positions)
        if search.finished:
            break
    search.look_again()
    return tuple(sorted(search.found, key=lambda c: (c.device, c.rig.moved)))


class _Search:
    """The consumers and switch positions that no rig has put to work yet."""

    def __init__(self, h: Harness) -> None:
        self.h = h
        self.graph = _Conductors(h)
        self.candidates = _candidates(h)
        self.waiting = {c.device for c in self.candidates}
        self.untried = {
            (switch, position)
            for switch, spec in self.graph.switches.items()
            for position in spec.positions[1:]
            if spec.groups(position)
        }
        self.found: list[Consumer] = []

    @property
    def finished(self) -> bool:
        return not self.waiting and not self.untried

    def consider(self, positions: Positions) -> None:
        """Take up a combination of positions that tries something new."""
        news = self.untried.intersection(positions)
        if len(positions) > MOST_MOVED_TO_TRY:
            news = set()
        sought = [c for c in self.candidates if news or c.device in self.waiting]
        if not sought:
            return
        merged = self.graph.joined(positions)
        hopeful = [
            c
            for c in sought
            if self.graph.fed(c.ends, merged)
            and (c.device in self.waiting or self._needs_all(c, positions))
        ]
        if not hopeful:
            return
        rig = rig_from(self.h, dict(positions))
        net = compile_network(self.h, rig)
        solution = solve_network(net)
        for c in hopeful:
            tries = c.device in self.waiting or self.untried.intersection(positions)
            if tries and _drop(net, solution, c.ends) >= AT_WORK_RATIO * self.h.volts:
                self.found.append(Consumer(c.device, c.segment, c.name, c.ends, rig))
                self.waiting.discard(c.device)
                self.untried -= set(positions)

    def look_again(self) -> None:
        """Find what works without meeting both poles in rigs found for others.

        A tell-tale between the left and right lines finds its earth through the idle
        side's filaments.
        """
        for rig in sorted({c.rig for c in self.found}, key=lambda r: r.moved):
            net = compile_network(self.h, rig)
            solution = solve_network(net)
            for c in self.candidates:
                works = _drop(net, solution, c.ends) >= AT_WORK_RATIO * self.h.volts
                if c.device in self.waiting and works:
                    found = Consumer(c.device, c.segment, c.name, c.ends, rig)
                    self.found.append(found)
                    self.waiting.discard(c.device)

    def _needs_all(self, c: _Candidate, positions: Positions) -> bool:
        """Return whether a consumer stops when any one switch goes back to rest."""
        return not any(
            self.graph.fed(
                c.ends,
                self.graph.joined(tuple(p for p in positions if p != left_out)),
            )
            for left_out in positions
        )


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
    """Return the engine running, with the one moved switch that feeds most."""
    simple = {c.rig for c in consumers(h) if len(c.rig.moved) <= 1}
    best = max(simple, key=lambda r: (_live(h, r), r.moved), default=rig_from(h, {}))
    return rig_from(h, {**best.as_mapping(), "engine": "running"})


def _live(h: Harness, rig: Rig) -> int:
    """Return how many nodes stand at more than half of nominal volts."""
    solution = solve_network(compile_network(h, rig))
    return int((abs(solution.volts) > h.volts / 2).sum())


def _positions(h: Harness) -> Iterator[Positions]:
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
        self.merged: dict[Positions, dict[str, str]] = {}
        for one, two in _always_joined(h):
            self._join(self.fixed, one, two)
        self.switches = {
            d.id: d.spec for d in h.devices.values() if isinstance(d.spec, Switch)
        }
        self.relays = {
            d.id: d.spec for d in h.devices.values() if isinstance(d.spec, Relay)
        }
        self.rest = {name: spec.positions[0] for name, spec in self.switches.items()}
        # Each switch's contacts in each position, as pairs of static groups.
        self.contacts = {
            name: {
                position: [
                    (
                        self._root(self.fixed, f"{name}.{first}"),
                        self._root(self.fixed, f"{name}.{pin}"),
                    )
                    for first, *others in spec.groups(position)
                    for pin in others
                ]
                for position in spec.positions
            }
            for name, spec in self.switches.items()
        }
        self.feed = self._root(self.fixed, h.feed_pin)
        self.earth = self._root(self.fixed, h.earthed_pin)
        self.group = {t: self._root(self.fixed, t) for t in h.terminals}

    @staticmethod
    def _root(parent: dict[str, str], node: str) -> str:
        while (above := parent.get(node, node)) != node:
            node = above
        return node

    def _join(self, parent: dict[str, str], one: str, two: str) -> None:
        parent[self._root(parent, one)] = self._root(parent, two)

    def joined(self, positions: Positions) -> dict[str, str]:
        """Return roots of the static groups, merged by the switch positions."""
        if positions not in self.merged:
            self.merged[positions] = self._merge(positions)
        return self.merged[positions]

    def _merge(self, positions: Positions) -> dict[str, str]:
        where = dict(positions)
        merged: dict[str, str] = {}
        for switch_id, positions_of in self.contacts.items():
            for one, two in positions_of[where.get(switch_id, self.rest[switch_id])]:
                self._join(merged, one, two)
        for _ in self.relays:  # one relay may feed another's coil
            for d, spec in self.relays.items():
                pulled = self.fed((f"{d}.86", f"{d}.85"), merged)
                pin = "87" if pulled else "87a" if spec.has_break_contact else "30"
                self._join(merged, self.group[f"{d}.30"], self.group[f"{d}.{pin}"])
        return merged

    def fed(self, ends: tuple[str, str], merged: dict[str, str]) -> bool:
        """Return whether one end meets the feed pole and the other the earthed one."""
        sides = {self._root(merged, self.group[end]) for end in ends}
        poles = {self._root(merged, self.feed), self._root(merged, self.earth)}
        return sides == poles and len(poles) > 1


# Kinds that pass current between the ends of each of their segments at all times.
_ALWAYS_JOINED = {"fuse", "diode", "plug", "joint", "box"}


def _always_joined(h: Harness) -> Iterator[tuple[str, str]]:
    for segment in segments_of(h).values():
        if segment.kind == "wire" or h.devices[segment.owner].kind in _ALWAYS_JOINED:
            yield segment.ends
    for device in h.devices.values():
        if isinstance(device.spec, Body):
            for pin in device.pins:
                yield f"{device.id}.{pin}", f"{device.id}.*"
