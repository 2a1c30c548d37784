"""A loom as an ngspice netlist: the oracle of the solver, used by tests only.

Written from the harness contract alone; nothing of `harness.network` or
`harness.solver` is used, and the wire table is repeated here on purpose. Filaments,
diodes and the charger are left to ngspice's own Newton steps; what has states (relay
contacts, fuses) is settled in `spice_bench.py`.
"""

import subprocess
import tempfile
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from harness.kinds import (
    Battery,
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
}
CRIMP_OHM = 0.002
MOUNT_OHM = 0.003
# Ties every node that hangs in the air to zero; 12 V drive 12 nA through it.
SHUNT_OHM = 1e9
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
        Switch positions, ``engine``, ``unplugged`` (plugs) and ``removed``.
    pulled : iterable of str
        Relays that have pulled in.
    """
    removed = names_in(rig, "removed")
    for device in h.devices.values():
        if device.id not in removed:
            yield from _device(device, rig, set(pulled))
    for wire in h.wires.values():
        yield Element(f"wire:{wire.id}", wire.start, wire.end, ohms=wire_ohm(wire))


def names_in(rig: Rig, key: str) -> set[str]:
    """Return a list of names of the rig, empty where it has none."""
    given = rig.get(key, ())
    assert isinstance(given, Sequence)
    return {str(name) for name in given}


def wire_ohm(wire: Wire) -> float:
    """Return a wire's resistance by the contract."""
    if wire.ohms is not None:
        return wire.ohms
    if wire.kind == "mount":
        return MOUNT_OHM
    assert wire.area_mm2 is not None
    assert wire.length_m is not None
    return OHM_PER_KM[wire.area_mm2] / 1000 * wire.length_m + 2 * CRIMP_OHM


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


def _contacts(d: str, spec: Switch, position: str) -> Iterator[Element]:
    for first, *others in dict(spec.joins).get(position, ()):
        for pin in others:
            name = f"switch:{d}.{position}.{first}-{pin}"
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


@dataclass(frozen=True)
class Answer:
    """Volts by terminal, and which terminals hang together."""

    volts: dict[str, float]
    island: dict[str, str]


def run(h: Harness, elements: Sequence[Element]) -> Answer:
    """Have ngspice find the volts of every terminal against the earthed pole."""

    def point(terminal: str) -> str:
        device = h.devices.get(terminal.partition(".")[0])
        return device.id if device and isinstance(device.spec, Body) else terminal

    nodes = {point(h.earthed_pin): "0"}
    ends = [(point(e.a), point(e.b)) for e in elements]
    for name in (*(p for pair in ends for p in pair), *map(point, h.terminals)):
        nodes.setdefault(name, f"n{len(nodes)}")
    wired = [(nodes[a], nodes[b]) for a, b in ends]
    netlist = [_line(k, e, *wired[k]) for k, e in enumerate(elements)]
    # A pin with nothing on it stands in no line of the netlist.
    loose = set(nodes.values()) - {node for pair in wired for node in pair}
    by_node = dict.fromkeys(loose, 0.0) | run_ngspice(
        netlist, [node for node in nodes.values() if node not in loose]
    )
    joined = [
        (a, b)
        for e, (a, b) in zip(elements, wired, strict=True)
        if by_node[a] - by_node[b] > e.opens_v
    ]
    roots = _roots(nodes.values(), joined)
    return Answer(
        volts={t: by_node[nodes[point(t)]] for t in h.terminals},
        island={t: roots[nodes[point(t)]] for t in h.terminals},
    )


def _line(k: int, element: Element, a: str, b: str) -> str:
    if element.amps:
        return f"B{k} {a} {b} I = {element.amps.format(v=f'v({a},{b})')}"
    return f"R{k} {a} {b} {element.ohms!r}"


def _roots(nodes: Iterable[str], joined: list[tuple[str, str]]) -> dict[str, str]:
    """Name each node's island after one of its nodes; that of the earthed pole is 0."""
    root = {node: node for node in nodes}
    for a, b in joined:
        old, new = max(root[a], root[b]), min(root[a], root[b])
        root = {node: new if r == old else r for node, r in root.items()}
    return root


def run_ngspice(netlist: list[str], nodes: list[str]) -> dict[str, float]:
    """Return the operating point's volts by node.

    Raises
    ------
    AssertionError
        When ngspice gives no volts for a node: its own output is in the message.
    """
    printed = [f"print v({node})" for node in nodes if node != "0"]
    deck = [
        "a loom",
        f".options rshunt={SHUNT_OHM:g} reltol=1e-9 vntol=1e-10 abstol=1e-12 itl1=1000",
        *netlist,
        *(".control", "set numdgt=12", "op", *printed, ".endc", ".end"),
    ]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "loom.cir"
        path.write_text("\n".join(deck) + "\n", encoding="utf-8")
        done = subprocess.run(
            ["ngspice", "-b", path.name],
            cwd=folder,
            capture_output=True,
            text=True,
            timeout=60,
            check=False,
        )
    volts = {"0": 0.0}
    for row in done.stdout.splitlines():
        name, equals, value = row.partition(" = ")
        if equals and name.startswith("v("):
            volts[name[2:-1]] = float(value)
    assert set(nodes) <= set(volts), f"ngspice gave no answer:\n{done.stderr}"
    return volts
