"""Segments: the smallest stretches that can be bad, and the ways each can be."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal, get_args

from harness.kinds import Box, Lamp, Plug, Relay, Switch
from harness.model import Device, Harness
from harness.neighbours import neighbours_of

Mode = Literal[
    "open",
    "resistive",
    "earthed",
    "crossed",
    "stuck",
    "shorted",
    "blown",
    "dead",
    "weak",
]
MODES: tuple[Mode, ...] = get_args(Mode)

_CONTACT: tuple[Mode, ...] = ("open", "resistive")
_CONSUMER: tuple[Mode, ...] = ("dead", "shorted")


@dataclass(frozen=True, slots=True)
class Segment:
    """A stretch that can be bad on its own.

    `owner` is the wire's or device's id; `ends` are the terminals on either side.
    """

    name: str
    kind: str
    owner: str
    ends: tuple[str, str]
    modes: tuple[Mode, ...]


@dataclass(frozen=True, slots=True, order=True)
class Fault:
    """One thing wrong: a segment, how, and for a bad contact how many ohms.

    Attributes
    ----------
    segment : str
    mode : Mode
    ohms : float
        Added resistance of a bad contact; of a weak battery, zero means a low voltage.
    other : str
        The neighbour that a crossed segment meets; it sorts after `segment`.
    moved : bool
        A contact that is sound at rest and opens only while the loom is being moved.
    """

    segment: str
    mode: Mode
    ohms: float = 0.0
    other: str = ""
    moved: bool = False

    @property
    def segments(self) -> tuple[str, ...]:
        """The segments that are bad with this fault: one, or two that are crossed."""
        return (self.segment, self.other) if self.other else (self.segment,)

    @property
    def is_short(self) -> bool:
        """Whether it joins what should be apart, and so may have opened a fuse."""
        return self.mode in {"earthed", "crossed", "stuck", "shorted"}


def on_other_segments(fault: Fault, faults: Iterable[Fault]) -> bool:
    """Return whether a fault shares no segment with any of some others."""
    taken = {name for other in faults for name in other.segments}
    return taken.isdisjoint(fault.segments)


@lru_cache(maxsize=32)
def segments_of(h: Harness) -> dict[str, Segment]:
    """Return every segment of a harness by name, sorted."""
    found = list(_wire_segments(h))
    for device in h.devices.values():
        found += _OF_KIND.get(device.kind, _none)(device)
    beside = neighbours_of(h)
    crossable = [
        replace(s, modes=(*s.modes, "crossed")) if beside.get(s.name) else s
        for s in found
    ]
    return {s.name: s for s in sorted(crossable, key=lambda segment: segment.name)}


def _wire_segments(h: Harness) -> Iterator[Segment]:
    for wire in h.wires.values():
        metal = wire.kind in {"strap", "mount"}
        modes: tuple[Mode, ...] = _CONTACT if metal else (*_CONTACT, "earthed")
        name = f"wire:{wire.id}"
        yield Segment(name, "wire", wire.id, (wire.start, wire.end), modes)


def _segment(
    device: Device, kind: str, part: str, ends: tuple[str, str], modes: tuple[Mode, ...]
) -> Segment:
    name = f"{kind}:{device.id}" + (f".{part}" if part else "")
    one, two = (f"{device.id}.{pin}" for pin in ends)
    return Segment(name, kind, device.id, (one, two), modes)


def _none(_: Device) -> list[Segment]:
    return []


def _whole(
    kind: str, ends: tuple[str, str], *modes: Mode
) -> Callable[[Device], list[Segment]]:
    """Return a rule for a device that is one segment."""
    return lambda device: [_segment(device, kind, "", ends, modes)]


def _lamp(device: Device) -> list[Segment]:
    assert isinstance(device.spec, Lamp)  # noqa: S101 - chosen by kind
    return [
        _segment(device, "device", filament.name or "", filament.pins, _CONSUMER)
        for filament in device.spec.filaments
    ]


def _box(device: Device) -> list[Segment]:
    assert isinstance(device.spec, Box)  # noqa: S101 - chosen by kind
    links = device.spec.links
    return [
        _segment(
            device,
            "device",
            "-".join(link.between) if len(links) > 1 else "",
            link.between,
            _CONSUMER,
        )
        for link in links
    ]


def _switch(device: Device) -> list[Segment]:
    assert isinstance(device.spec, Switch)  # noqa: S101 - chosen by kind
    found = []
    joined: set[tuple[str, str]] = set()
    for position, groups in device.spec.joins:
        for first, *others in groups:
            for pin in others:
                # One contact in several positions can stick shut only once, and one
                # that is shut at rest is never seen to.
                new = (first, pin) not in joined
                joined.add((first, pin))
                at_rest = position == device.spec.positions[0]
                modes = (*_CONTACT, "stuck") if new and not at_rest else _CONTACT
                part = f"{position}.{first}-{pin}"
                found.append(_segment(device, "switch", part, (first, pin), modes))
    return found


def _plug(device: Device) -> list[Segment]:
    assert isinstance(device.spec, Plug)  # noqa: S101 - chosen by kind
    return [
        _segment(device, "plug", cavity, (f"{cavity}a", f"{cavity}b"), _CONTACT)
        for cavity in device.spec.cavities
    ]


def _joint(device: Device) -> list[Segment]:
    return [_segment(device, "joint", pin, (pin, "*"), _CONTACT) for pin in device.pins]


def _relay(device: Device) -> list[Segment]:
    assert isinstance(device.spec, Relay)  # noqa: S101 - chosen by kind
    found = [
        _segment(device, "relay", "coil", ("86", "85"), ("open", "shorted")),
        _segment(device, "relay", "contact", ("30", "87"), (*_CONTACT, "stuck")),
    ]
    if device.spec.has_break_contact:
        modes = (*_CONTACT, "stuck")
        found.append(_segment(device, "relay", "break-contact", ("30", "87a"), modes))
    return found


_OF_KIND: dict[str, Callable[[Device], list[Segment]]] = {
    "battery": _whole("battery", ("pos", "neg"), "weak", "dead"),
    "charger": _whole("charger", ("pos", "neg"), "dead", "shorted"),
    "fuse": _whole("fuse", ("1", "2"), "blown", "resistive"),
    "load": _whole("device", ("1", "2"), *_CONSUMER),
    "motor": _whole("device", ("1", "2"), *_CONSUMER),
    "diode": _whole("diode", ("a", "k"), "open", "shorted"),
    "lamp": _lamp,
    "box": _box,
    "switch": _switch,
    "plug": _plug,
    "joint": _joint,
    "relay": _relay,
}
