"""Drawings that differ by one wire: an end on another pin, or swapped with another.

A wire that is not there at all reads like one that is open, which the belief holds
anyway. Pins that are one point (metal, a joint) and the battery's posts are left out.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from harness.circuit import Network
from harness.edits import Cut, Edit, Shunt
from harness.kinds import Battery, Body, Joint, Plug
from harness.model import Device, Harness, Wire
from harness.rig import Rig

End = Literal["from", "to"]


@dataclass(frozen=True, slots=True, order=True)
class Move:
    """One end of a wire on another terminal than drawn."""

    wire: str
    end: End
    terminal: str


@dataclass(frozen=True, slots=True, order=True)
class Redrawn:
    """What a loom would have to be in place of what is drawn.

    One move is an end on another pin; two are the ends of two wires swapped.
    """

    moves: tuple[Move, ...]

    @property
    def segments(self) -> tuple[str, ...]:
        """The wires that are not as drawn, as segments."""
        return tuple(f"wire:{move.wire}" for move in self.moves)


def redrawings(h: Harness, wires: Iterable[str]) -> tuple[Redrawn, ...]:
    """Return the drawings that differ at an end of some wires, each once, in order."""
    found: dict[Redrawn, None] = {}
    for wire_id in wires:
        wire = h.wires[wire_id]
        for end in _ENDS:
            found |= dict.fromkeys(_at_end(h, wire, end))
    return tuple(found)


_ENDS: tuple[End, End] = ("from", "to")


@lru_cache(maxsize=16)
def count_of_redrawings(h: Harness) -> int:
    """Return how many drawings differ by one wire, of all of a loom."""
    return len(redrawings(h, h.wires))


def terminal_at(wire: Wire, end: End) -> str:
    """Return the terminal that an end of a wire is drawn at."""
    return wire.start if end == "from" else wire.end


def _at_end(h: Harness, wire: Wire, end: End) -> Iterator[Redrawn]:
    drawn = terminal_at(wire, end)
    far = wire.end if end == "from" else wire.start
    owner = h.devices[drawn.partition(".")[0]]
    for terminal in _other_pins(owner, drawn):
        if terminal == far:
            continue
        here = Move(wire.id, end, terminal)
        yield Redrawn((here,))
        for other, its_end in _ends_at(h, terminal):
            its_far = other.end if its_end == "from" else other.start
            if other.id != wire.id and its_far != drawn:
                there = Move(other.id, its_end, drawn)
                yield Redrawn(tuple(sorted((here, there))))


def _other_pins(owner: Device, drawn: str) -> list[str]:
    """Return the pins that a wire drawn at one might sit on instead."""
    if isinstance(owner.spec, Body | Joint | Battery):
        return []
    pins = [f"{owner.id}.{pin}" for pin in owner.pins]
    if isinstance(owner.spec, Plug):
        # A cavity's two faces are two halves of the plug.
        pins = [pin for pin in pins if pin[-1] == drawn[-1]]
    return [pin for pin in pins if pin != drawn]


def _ends_at(h: Harness, terminal: str) -> Iterator[tuple[Wire, End]]:
    for wire in h.wires.values():
        for end in _ENDS:
            if terminal_at(wire, end) == terminal:
                yield wire, end


def edits_for(h: Harness, net: Network, rig: Rig, redrawn: Redrawn) -> list[Edit]:
    """Return what a drawing changes in the network of the one as drawn."""
    pulled = {what for what in rig.unplugged if what not in h.devices}
    if rig.battery_lead == "off":
        pulled.add(h.earthed_pin)
    made: list[Edit] = []
    for move in redrawn.moves:
        k = net.branch_of[f"wire:{move.wire}"]
        made.append(Cut(k))
        if move.terminal not in pulled:
            stays = net.b[k] if move.end == "from" else net.a[k]
            new = net.node_of[move.terminal]
            made.append(Shunt(new, int(stays), 1.0 / float(net.g_s[k])))
    return made


def near_wires(h: Harness, terminals: Sequence[str], most: int) -> tuple[str, ...]:
    """Return the wires around some terminals, the nearest first.

    From wire to wire they pass through devices, but not through metal or the battery.
    """
    found: dict[str, None] = {}
    reached = set(terminals)
    while len(found) < most:
        new = [
            wire
            for wire in h.wires.values()
            if wire.id not in found and {wire.start, wire.end} & reached
        ]
        if not new:
            break
        found |= dict.fromkeys(wire.id for wire in new)
        ends = {end for wire in new for end in (wire.start, wire.end)}
        reached = {pin for end in ends for pin in _through(h, end)}
    return tuple(found)[:most]


def _through(h: Harness, terminal: str) -> list[str]:
    owner = h.devices[terminal.partition(".")[0]]
    if isinstance(owner.spec, Body | Battery):
        return []
    return [f"{owner.id}.{pin}" for pin in owner.pins]
