"""Segments: the smallest stretches that can be bad, and the ways each can be."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal, get_args

from harness.kinds import Box, Lamp, Plug, Relay, Switch
from harness.model import Device, Harness

Mode = Literal["open", "resistive", "earthed", "blown", "dead", "weak"]
MODES: tuple[Mode, ...] = get_args(Mode)

_CONTACT: tuple[Mode, ...] = ("open", "resistive")


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


@lru_cache(maxsize=32)
def segments_of(h: Harness) -> dict[str, Segment]:
    """Return every segment of a harness by name, sorted."""
    found = list(_wire_segments(h))
    for device in h.devices.values():
        found += _OF_KIND.get(device.kind, _none)(device)
    return {s.name: s for s in sorted(found, key=lambda segment: segment.name)}


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
        _segment(device, "device", filament.name or "", filament.pins, ("dead",))
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
            ("dead",),
        )
        for link in links
    ]


def _switch(device: Device) -> list[Segment]:
    assert isinstance(device.spec, Switch)  # noqa: S101 - chosen by kind
    return [
        _segment(device, "switch", f"{position}.{first}-{pin}", (first, pin), _CONTACT)
        for position, groups in device.spec.joins
        for first, *others in groups
        for pin in others
    ]


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
        _segment(device, "relay", "coil", ("86", "85"), ("open",)),
        _segment(device, "relay", "contact", ("30", "87"), _CONTACT),
    ]
    if device.spec.has_break_contact:
        found.append(
            _segment(device, "relay", "break-contact", ("30", "87a"), _CONTACT)
        )
    return found


_OF_KIND: dict[str, Callable[[Device], list[Segment]]] = {
    "battery": _whole("battery", ("pos", "neg"), "weak", "dead"),
    "charger": _whole("charger", ("pos", "neg"), "dead"),
    "fuse": _whole("fuse", ("1", "2"), "blown", "resistive"),
    "load": _whole("device", ("1", "2"), "dead"),
    "motor": _whole("device", ("1", "2"), "dead"),
    "diode": _whole("diode", ("a", "k"), "open"),
    "lamp": _lamp,
    "box": _box,
    "switch": _switch,
    "plug": _plug,
    "joint": _joint,
    "relay": _relay,
}
