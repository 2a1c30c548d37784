"""A loom as the elements of an ngspice netlist: the oracle of the solver.

Written from the harness contract alone; nothing of the engine's network or solver is
used, and the wire tables are repeated here on purpose. Filaments, diodes and the
charger are left to ngspice's own Newton steps; what has states (relay contacts, fuses)
is settled in `spice_bench.py`, and faults are put in by `spice_faults.py`.
"""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from harness.kinds import (
    Battery,
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
from harness.model import Device, Harness, Wire

# IEC 60228:2004 table 3, class 5, plain copper, ohm/km at 20 °C (check value W5).
OHM_PER_KM = {
    0.5: 39.0,
    0.75: 26.0,
    1.0: 19.5,
    1.5: 13.3,
    2.5: 7.98,
    4.0: 4.95,
    6.0: 3.30,
    10.0: 1.91,
    16.0: 1.21,
    25.0: 0.780,
    35.0: 0.554,
}
CRIMP_OHM = 0.002
MOUNT_OHM = 0.003
# The contract gives a jumper lead no resistance: this is what the engine takes.
JUMPER_OHM = 0.01
EXPONENT = 0.55
COLD_RATIO = 1 / 12

Rig = Mapping[str, object]


@dataclass(frozen=True)
class Element:
    """One element between two terminals.

    `ohms` makes it a resistor; else `amps` is its current as an expression in ``{v}``,
    the volts from `a` to `b`. A one-way element conducts above `opens_v`.
    """

    segment: str
    a: str
    b: str
    ohms: float = 0.0
    amps: str = ""
    opens_v: float = float("-inf")


def source(segment: str, pos: str, neg: str, emf_v: float, ohms: float) -> Element:
    """Return a source behind a resistance; it takes current at `pos` when charged."""
    return Element(segment, pos, neg, amps=f"({{v}} - {emf_v!r}) / {ohms!r}")


def one_way(segment: str, a: str, b: str, opens_v: float, ohms: float) -> Element:
    """Return an element that carries current from `a` to `b` only."""
    law = f"max(0, ({{v}} - ({opens_v!r})) / {ohms!r})"
    return Element(segment, a, b, amps=law, opens_v=opens_v)


def healthy_elements(h: Harness, rig: Rig, pulled: Iterable[str]) -> Iterator[Element]:
    """Yield every element of the sound bike.

    Parameters
    ----------
    h : Harness
    rig : mapping
        As the contract has it.
    pulled : iterable of str
        Relays that have pulled in.
    """
    gone = names_in(rig, "removed")
    for device in h.devices.values():
        if device.id not in gone:
            yield from _device(device, rig, set(pulled))
    loose = names_in(rig, "unplugged")
    if rig.get("battery-lead") == "off":
        # The earthed lead is the one that is lifted (check value Z4).
        loose.add(h.earthed_pin)
    for wire in h.wires.values():
        # An end that is pulled off its pin hangs in the air by itself.
        a, b = (
            f"{end}~{wire.id}" if end in loose else end
            for end in (wire.start, wire.end)
        )
        yield Element(f"wire:{wire.id}", a, b, ohms=wire_ohm(wire))
    jumpers = rig.get("jumpers", ())
    assert isinstance(jumpers, Sequence)
    for number, (one, two) in enumerate(jumpers):
        yield Element(f"jumper:{number}", one, two, ohms=JUMPER_OHM)


def names_in(rig: Rig, key: str) -> set[str]:
    """Return a list of names of the rig, empty where it has none."""
    given = rig.get(key, ())
    assert isinstance(given, Sequence)
    return {str(name) for name in given}


def position(h: Harness, rig: Rig, switch: str) -> str:
    """Return where a switch stands."""
    spec = h.devices[switch].spec
    assert isinstance(spec, Switch)
    return str(rig.get(switch, spec.positions[0]))


def wire_ohm(wire: Wire) -> float:
    """Return a wire's resistance by the contract."""
    if wire.ohms is not None:
        return wire.ohms
    if wire.kind == "mount":
        return MOUNT_OHM
    assert wire.length_m is not None
    if wire.awg is not None:
        # ASTM B258 (check values W1, W3): the area of that gauge.
        area = math.pi / 4 * (0.127 * 92 ** ((36 - wire.awg) / 39)) ** 2
    else:
        assert wire.area_mm2 is not None
        area = wire.area_mm2
    return ohm_per_metre(area) * wire.length_m + 2 * CRIMP_OHM


def ohm_per_metre(area_mm2: float) -> float:
    """Return what the contract makes of the table between and beyond its rows.

    Ohms a metre times area goes linearly in the logarithm of the area.
    """
    rows = [(area, ohm * area / 1000) for area, ohm in OHM_PER_KM.items()]
    if area_mm2 <= rows[0][0]:
        return rows[0][1] / area_mm2
    for (small, low), (large, high) in pairwise(rows):
        if area_mm2 <= large:
            share = math.log(area_mm2 / small) / math.log(large / small)
            return (low + share * (high - low)) / area_mm2
    return rows[-1][1] / area_mm2


def _device(device: Device, rig: Rig, pulled: set[str]) -> Iterator[Element]:
    d, spec = device.id, device.spec
    match spec:
        case Battery():
            name = f"battery:{d}"
            yield source(name, f"{d}.pos", f"{d}.neg", spec.emf_v, spec.ohms)
        case Charger() if rig.get("engine") == "running":
            name = f"charger:{d}"
            yield one_way(name, f"{d}.neg", f"{d}.pos", -spec.volts, spec.ohms)
        case Diode():
            yield one_way(f"diode:{d}", f"{d}.a", f"{d}.k", spec.drop_v, spec.ohms)
        case Fuse():
            yield Element(f"fuse:{d}", f"{d}.1", f"{d}.2", ohms=spec.ohms)
        case Load() | Motor():
            yield Element(f"device:{d}", f"{d}.1", f"{d}.2", ohms=spec.ohms)
        case Lamp():
            yield from _filaments(d, spec)
        case Relay():
            yield from _relay(d, spec, is_pulled=d in pulled)
        case _:
            yield from _connections(device, rig)


def _connections(device: Device, rig: Rig) -> Iterator[Element]:
    d, spec = device.id, device.spec
    match spec:
        case Switch():
            yield from _contacts(d, spec, str(rig.get(d, spec.positions[0])))
        case Plug() if d not in names_in(rig, "unplugged"):
            for c in spec.cavities:
                yield Element(f"plug:{d}.{c}", f"{d}.{c}a", f"{d}.{c}b", ohms=spec.ohms)
        case Joint():
            for pin in device.pins:
                yield Element(f"joint:{d}.{pin}", f"{d}.{pin}", d, ohms=spec.ohms)
        case Box():
            yield from _links(d, spec)


def _contacts(d: str, spec: Switch, at: str) -> Iterator[Element]:
    for first, *others in dict(spec.joins).get(at, ()):
        for pin in others:
            name = f"switch:{d}.{at}.{first}-{pin}"
            yield Element(name, f"{d}.{first}", f"{d}.{pin}", ohms=spec.ohms)


def _links(d: str, spec: Box) -> Iterator[Element]:
    for link in spec.links:
        one, two = link.between
        part = f".{one}-{two}" if len(spec.links) > 1 else ""
        yield Element(f"device:{d}{part}", f"{d}.{one}", f"{d}.{two}", ohms=link.ohms)


def _relay(d: str, spec: Relay, *, is_pulled: bool) -> Iterator[Element]:
    yield Element(f"relay:{d}.coil", f"{d}.86", f"{d}.85", ohms=spec.coil_ohms)
    if is_pulled:
        yield Element(f"relay:{d}.contact", f"{d}.30", f"{d}.87", ohms=spec.ohms)
    elif spec.has_break_contact:
        name = f"relay:{d}.break-contact"
        yield Element(name, f"{d}.30", f"{d}.87a", ohms=spec.ohms)


def _filaments(d: str, spec: Lamp) -> Iterator[Element]:
    """Yield filaments as a resistance that rises with the volts, from a cold floor.

    Current as volts to the power 0.55 is resistance as volts to the power 0.45.
    """
    rise = 1 - EXPONENT
    cold_at = COLD_RATIO ** (1 / rise)
    for filament in spec.filaments:
        hot_ohm = filament.at_volts**2 / filament.watts
        part = f"max(abs({{v}}) / {filament.at_volts!r}, {cold_at!r})"
        law = f"{{v}} / ({hot_ohm!r} * pow({part}, {rise!r}))"
        name = f"device:{d}.{filament.name}" if filament.name else f"device:{d}"
        one, two = filament.pins
        yield Element(name, f"{d}.{one}", f"{d}.{two}", amps=law)
