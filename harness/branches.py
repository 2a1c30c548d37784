"""The branches that each kind of device becomes in a rig."""

from collections.abc import Callable, Iterator
from typing import Any

from harness.circuit import Branch, Role
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
from harness.model import Device
from harness.rig import Rig


def device_branches(device: Device, rig: Rig) -> Iterator[Branch]:
    """Yield the branches that a device becomes in a rig.

    Parameters
    ----------
    device : Device
    rig : Rig
        Decides switch positions, unplugged plugs and whether the charger runs.
    """
    become = _OF_SPEC.get(type(device.spec))
    return become(device, device.spec, rig) if become else iter(())


def _battery(device: Device, spec: Battery, _: Rig) -> Iterator[Branch]:
    d = device.id
    yield Branch(
        f"battery:{d}",
        f"{d}.pos",
        f"{d}.neg",
        spec.ohms,
        emf_v=spec.emf_v,
        role=Role.SOURCE,
    )


def _charger(device: Device, spec: Charger, rig: Rig) -> Iterator[Branch]:
    if rig.engine != "running":
        return
    d = device.id
    # Current leaves at pos and comes back at neg, never the other way.
    yield Branch(
        f"charger:{d}",
        f"{d}.neg",
        f"{d}.pos",
        spec.ohms,
        emf_v=-spec.volts,
        role=Role.DIODE,
    )


def _fuse(device: Device, spec: Fuse, _: Rig) -> Iterator[Branch]:
    d = device.id
    yield Branch(
        f"fuse:{d}", f"{d}.1", f"{d}.2", spec.ohms, role=Role.FUSE, limit=spec.amps
    )


def _resistance(device: Device, spec: Load | Motor, _: Rig) -> Iterator[Branch]:
    d = device.id
    yield Branch(f"device:{d}", f"{d}.1", f"{d}.2", spec.ohms)


def _diode(device: Device, spec: Diode, _: Rig) -> Iterator[Branch]:
    d = device.id
    yield Branch(
        f"diode:{d}",
        f"{d}.a",
        f"{d}.k",
        spec.ohms,
        emf_v=spec.drop_v,
        role=Role.DIODE,
    )


def _switch(device: Device, spec: Switch, rig: Rig) -> Iterator[Branch]:
    d = device.id
    position = rig.switches[d]
    for first, *others in spec.groups(position):
        for pin in others:
            name = f"switch:{d}.{position}.{first}-{pin}"
            yield Branch(name, f"{d}.{first}", f"{d}.{pin}", spec.ohms)


def _lamp(device: Device, spec: Lamp, _: Rig) -> Iterator[Branch]:
    d = device.id
    for filament in spec.filaments:
        start, end = filament.pins
        yield Branch(
            f"device:{d}.{filament.name}" if filament.name else f"device:{d}",
            f"{d}.{start}",
            f"{d}.{end}",
            filament.at_volts**2 / filament.watts,
            role=Role.LAMP,
            limit=filament.at_volts,
        )


def _plug(device: Device, spec: Plug, rig: Rig) -> Iterator[Branch]:
    d = device.id
    if d in rig.unplugged:
        return
    for cavity in spec.cavities:
        name = f"plug:{d}.{cavity}"
        yield Branch(name, f"{d}.{cavity}a", f"{d}.{cavity}b", spec.ohms)


def _joint(device: Device, spec: Joint, _: Rig) -> Iterator[Branch]:
    d = device.id
    for pin in device.pins:
        yield Branch(f"joint:{d}.{pin}", f"{d}.{pin}", f"{d}.*", spec.ohms)


def _box(device: Device, spec: Box, _: Rig) -> Iterator[Branch]:
    d = device.id
    for link in spec.links:
        one, two = link.between
        name = f"device:{d}" + (f".{one}-{two}" if len(spec.links) > 1 else "")
        yield Branch(name, f"{d}.{one}", f"{d}.{two}", link.ohms)


def _relay(device: Device, spec: Relay, _: Rig) -> Iterator[Branch]:
    d = device.id
    coil = f"relay:{d}.coil"
    yield Branch(coil, f"{d}.86", f"{d}.85", spec.coil_ohms)
    contacts = [(f"relay:{d}.contact", "87", Role.MAKE)]
    if spec.has_break_contact:
        contacts.append((f"relay:{d}.break-contact", "87a", Role.BREAK))
    for name, pin, role in contacts:
        yield Branch(
            name,
            f"{d}.30",
            f"{d}.{pin}",
            spec.ohms,
            role=role,
            limit=spec.pull_in_v,
            coil=coil,
        )


# Each function takes the kind of spec that it is filed under.
_OF_SPEC: dict[type, Callable[[Device, Any, Rig], Iterator[Branch]]] = {
    Battery: _battery,
    Charger: _charger,
    Fuse: _fuse,
    Load: _resistance,
    Motor: _resistance,
    Diode: _diode,
    Switch: _switch,
    Lamp: _lamp,
    Plug: _plug,
    Joint: _joint,
    Box: _box,
    Relay: _relay,
}
