"""The harness: frozen, sorted and indexed; an edit returns a new one."""

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from types import MappingProxyType
from typing import Literal

from typing_extensions import override

from harness.kinds import CRIMP_OHM, KIND_OF, MOUNT_OHM, Battery, Body, Spec, fixed_pins

Pole = Literal["negative", "positive"]
WireKind = Literal["wire", "cable", "strap", "mount"]


@dataclass(frozen=True, slots=True)
class Place:
    """Somewhere on the bike, and the minutes that it takes to get at it."""

    id: str
    name: str
    access_minutes: float = 0.0


@dataclass(frozen=True, slots=True)
class Device:
    """One device; `pins` are the fixed ones, or those that wires name (body, joint)."""

    id: str
    spec: Spec
    pins: tuple[str, ...] = ()
    place: str | None = None
    name: str | None = None
    note: str | None = None
    line: int | None = None

    @property
    def kind(self) -> str:
        """The kind as the file writes it."""
        return KIND_OF[type(self.spec)]

    @property
    def title(self) -> str:
        """What a person calls it: its name, or its id with the dashes out."""
        return self.name or self.id.replace("-", " ")


@dataclass(frozen=True, slots=True)
class Wire:
    """One wire, cable, strap or metal-to-metal mount between two terminals.

    `conductor_ohms` is the metal at 20 °C alone, None where `ohms` overrides all.
    `awg` is the gauge where the file gave one; `area_mm2` is then that gauge's area.
    """

    id: str
    start: str
    end: str
    kind: WireKind = "wire"
    colour: str | None = None
    area_mm2: float | None = None
    length_m: float | None = None
    conductor_ohms: float | None = None
    ohms: float | None = None
    place: str | None = None
    note: str | None = None
    line: int | None = None
    awg: int | None = None

    @property
    def resistance_ohm(self) -> float:
        """End to end: the override, else metal and two crimped ends."""
        if self.ohms is not None:
            return self.ohms
        if self.kind == "mount":
            return MOUNT_OHM
        return (self.conductor_ohms or 0.0) + 2 * CRIMP_OHM


@dataclass(frozen=True)
class Harness:
    """A whole loom.

    Attributes
    ----------
    volts : float
        Nominal system voltage.
    earth : {"negative", "positive"}
        The battery pole that is bonded to the frame.
    places, devices, wires : mapping of str to Place, Device, Wire
        Sorted by id, so that nothing else depends on the order of the file.
    first_body : str or None
        A terminal of the first body in the file: where a clip goes unless told.
    """

    title: str
    volts: float
    earth: Pole
    places: Mapping[str, Place] = field(default_factory=dict)
    devices: Mapping[str, Device] = field(default_factory=dict)
    wires: Mapping[str, Wire] = field(default_factory=dict)
    first_body: str | None = None

    @classmethod
    def build(
        cls,
        *,
        title: str,
        volts: float,
        earth: Pole,
        places: Iterable[Place] = (),
        devices: Iterable[Device] = (),
        wires: Iterable[Wire] = (),
    ) -> "Harness":
        """Sort everything and give each device its pins.

        The caller has checked that the parts fit together (see `checks.py`).
        """
        wire_list = sorted(wires, key=lambda wire: wire.id)
        named: dict[str, list[str]] = {}
        for wire in wire_list:
            for terminal in (wire.start, wire.end):
                device, _, pin = terminal.partition(".")
                named.setdefault(device, []).append(pin)
        in_file = list(devices)
        complete = [
            Device(
                id=d.id,
                spec=d.spec,
                pins=fixed_pins(d.spec) or tuple(sorted(set(named.get(d.id, ())))),
                place=d.place,
                name=d.name,
                note=d.note,
                line=d.line,
            )
            for d in sorted(in_file, key=lambda device: device.id)
        ]
        return cls(
            title=title,
            volts=volts,
            earth=earth,
            places=MappingProxyType(
                {p.id: p for p in sorted(places, key=lambda place: place.id)}
            ),
            devices=MappingProxyType({d.id: d for d in complete}),
            wires=MappingProxyType({w.id: w for w in wire_list}),
            first_body=next(
                (
                    f"{d.id}.{min(named[d.id])}"
                    for d in in_file
                    if isinstance(d.spec, Body) and d.id in named
                ),
                None,
            ),
        )

    @cached_property
    def terminals(self) -> tuple[str, ...]:
        """Every ``device.pin``, sorted by device."""
        return tuple(f"{d.id}.{pin}" for d in self.devices.values() for pin in d.pins)

    @cached_property
    def battery(self) -> Device:
        """The first battery by id."""
        return next(d for d in self.devices.values() if isinstance(d.spec, Battery))

    @property
    def earthed_pin(self) -> str:
        """The battery terminal bonded to the frame: zero volts by convention."""
        return f"{self.battery.id}.{'neg' if self.earth == 'negative' else 'pos'}"

    @property
    def feed_pin(self) -> str:
        """The battery terminal that feeds the loom."""
        return f"{self.battery.id}.{'pos' if self.earth == 'negative' else 'neg'}"

    @cached_property
    def digest(self) -> str:
        """SHA-256 of the electrical and descriptive content, without line numbers."""
        parts = [self.title, repr(self.volts), self.earth, str(self.first_body)]
        parts += [repr(p) for p in self.places.values()]
        parts += [
            repr((d.id, d.spec, d.pins, d.place, d.name, d.note))
            for d in self.devices.values()
        ]
        parts += [
            repr((w.id, w.start, w.end, w.kind, w.colour, w.resistance_ohm, w.place))
            + repr((w.area_mm2, w.awg, w.length_m, w.note))
            for w in self.wires.values()
        ]
        return hashlib.sha256("\n".join(parts).encode()).hexdigest()

    @override
    def __hash__(self) -> int:
        """Hash by content, so that solved tables can be remembered."""
        return hash(self.digest)

    @override
    def __eq__(self, other: object) -> bool:
        """Two harnesses are equal when their content is."""
        return isinstance(other, Harness) and self.digest == other.digest
