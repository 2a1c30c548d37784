"""Looms of a few wires, each made for one question, and ways to turn them round."""

from collections.abc import Mapping
from dataclasses import replace

from harness.files import loads
from harness.kinds import (
    Battery,
    Body,
    Charger,
    Diode,
    Filament,
    Fuse,
    Joint,
    Lamp,
    Load,
    Motor,
    Plug,
    Relay,
    Spec,
    Switch,
)
from harness.model import Device, Harness, Place, Wire
from harness.priors import Priors, default_rates
from harness.segments import Mode
from tests.harness.library import Rig

# As good as never, where a worked case leaves a kind of fault out.
NEVER = 1e-9

HORN_AND_TAIL = """\
schema = 1
title = "Horn and tail lamp"
volts = 12
earth = "negative"

[places.tray]
access_minutes = 2

[places.headlamp-shell]
name = "Headlamp shell"
access_minutes = 4

[places.tail]
access_minutes = 3

[devices.battery]
kind = "battery"
emf = 12.6
ohms = 0.02
place = "tray"

[devices.frame]
kind = "body"

[devices.main-fuse]
kind = "fuse"
amps = 15
place = "tray"

[devices.key-switch]
kind = "switch"
positions = ["OFF", "ON", "PARK"]
joins = { ON = [["30", "15", "57"]], PARK = [["30", "57"]] }
place = "headlamp-shell"

[devices.horn-button]
kind = "switch"
momentary = true
positions = ["OUT", "PRESSED"]
joins = { PRESSED = [["1", "2"]] }

[devices.brake-switch]
kind = "switch"
momentary = true
positions = ["RELEASED", "PRESSED"]
joins = { PRESSED = [["1", "2"]] }

[devices.horn]
kind = "load"
watts = 30
at_volts = 12

[devices.tail-plug]
kind = "plug"
cavities = ["1", "2", "3"]
place = "tail"

[devices.rear-lamp]
kind = "lamp"
place = "tail"
filaments = [
  { name = "tail", pins = ["T", "E"], watts = 5 },
  { name = "stop", pins = ["S", "E"], watts = 21 },
]
"""

_WIRES = (
    ("1", "battery.pos", "main-fuse.1", "RD", 2.5, 0.4),
    ("2", "main-fuse.2", "key-switch.30", "RDWH", 2.5, 0.9),
    ("3", "key-switch.15", "horn-button.1", "OG", 1.0, 0.6),
    ("4", "horn-button.2", "horn.1", "OGBK", 1.0, 0.5),
    ("5", "horn.2", "frame.horn", "BK", 1.0, 0.2),
    ("6", "key-switch.57", "tail-plug.1a", "GY", 0.75, 1.2),
    ("7", "tail-plug.1b", "rear-lamp.T", "GY", 0.75, 0.8),
    ("8", "key-switch.15", "brake-switch.1", "OG", 0.75, 0.7),
    ("9", "brake-switch.2", "tail-plug.2a", "VT", 0.75, 0.6),
    ("10", "tail-plug.2b", "rear-lamp.S", "VT", 0.75, 0.8),
    ("11", "rear-lamp.E", "tail-plug.3b", "BK", 1.0, 0.8),
    ("12", "tail-plug.3a", "frame.tail", "BK", 1.0, 0.3),
)

HORN_AND_TAIL += "".join(
    f'\n[[wires]]\nid = "{name}"\nfrom = "{start}"\nto = "{end}"\n'
    f'colour = "{colour}"\nmm2 = {mm2}\nmetres = {metres}\n'
    for name, start, end, colour, mm2, metres in _WIRES
)
HORN_AND_TAIL += """
[[wires]]
id = "13"
from = "battery.neg"
to = "frame.battery"
kind = "cable"
colour = "BK"
mm2 = 6
metres = 0.3
"""

ON: Rig = {"key-switch": "ON"}
HORN = ON | {"horn-button": "PRESSED"}
BRAKE = ON | {"brake-switch": "PRESSED"}
PARK: Rig = {"key-switch": "PARK"}
LEAD_OFF: Rig = {"battery-lead": "off"}

# Findings on `horn_and_tail`.
DEAD_HORN = {"rig": HORN, "tool": "eye", "device": "horn", "reads": "dead"}
TAIL_WORKS = {"rig": ON, "tool": "eye", "device": "rear-lamp.tail", "reads": "works"}
HIGH_RETURN = {"rig": HORN, "tool": "voltmeter", "probe": "horn.2", "reads": 12.4}


def horn_and_tail() -> Harness:
    """Return the contract's bench example, with a stop lamp and a plug."""
    return loads(HORN_AND_TAIL, name="horn-and-tail.toml")


def device(name: str, spec: Spec, place: str | None = None) -> Device:
    """Return a device with nothing but its kind and place."""
    return Device(id=name, spec=spec, place=place)


def wire(name: str, start: str, end: str, ohms: float = 0.01) -> Wire:
    """Return a wire of a given resistance."""
    return Wire(id=name, start=start, end=end, ohms=ohms)


def loom(devices: list[Device], wires: list[Wire], *, places: int = 0) -> Harness:
    """Return a 12 V negative-earth loom around a battery and a frame.

    `places` is how many places ``place-1``, ``place-2`` ... of five minutes it has.
    """
    own = [device("battery", Battery(emf_v=12.6)), device("frame", Body())]
    earth = wire("earth", "battery.neg", "frame.battery")
    return Harness.build(
        title="Bench example",
        volts=12.0,
        earth="negative",
        places=[Place(f"place-{k}", f"Place {k}", 5.0) for k in range(1, places + 1)],
        devices=[*own, *devices],
        wires=[earth, *wires],
    )


def chain(segments: int) -> Harness:
    """Return a horn at the end of a chain of equal wires, post to post."""
    posts = [f"post-{k:02}" for k in range(1, segments)]
    ends = ["battery.pos", *(f"{post}.{pin}" for post in posts for pin in "ab")]
    ends.append("horn.1")
    pairs = zip(ends[::2], ends[1::2], strict=True)
    wires = [wire(f"{k:02}", a, b) for k, (a, b) in enumerate(pairs, start=1)]
    devices = [device(post, Body()) for post in posts]
    devices.append(device("horn", Load(ohms=4.8)))
    return loom(devices, [*wires, wire("return", "horn.2", "frame.horn")])


def bulbs_in_series(count: int) -> Harness:
    """Return bulbs of equal volts in series, straight across the battery."""
    lamp = Lamp((Filament(None, ("1", "2"), 5.0, 12.0 / count),))
    bulbs = [f"bulb-{k:02}" for k in range(1, count + 1)]
    ends = ["battery.pos", *(f"{bulb}.{pin}" for bulb in bulbs for pin in "12")]
    ends.append("frame.end")
    pairs = zip(ends[::2], ends[1::2], strict=True)
    wires = [wire(f"{k:02}", a, b) for k, (a, b) in enumerate(pairs, start=1)]
    return loom([device(bulb, lamp) for bulb in bulbs], wires)


def only(h: Harness, rates: Mapping[tuple[str, Mode], float]) -> Priors:
    """Return priors under which one of the faults named happens, and nothing else."""
    never = dict.fromkeys(default_rates(h), NEVER)
    return Priors(never | dict(rates), further_faults=NEVER)


def relay_and_charger() -> Harness:
    """Return a headlamp on a relay, a warning lamp behind a diode, and a charger."""
    head = Lamp((Filament(None, ("1", "2"), 45.0, 12.0),))
    warning = Lamp((Filament(None, ("1", "2"), 3.0, 12.0),))
    devices = [
        device("fuse", Fuse(amps=10.0, ohms=0.01)),
        device("switch", Switch(("OFF", "ON"), (("ON", (("1", "2"),)),))),
        device("relay", Relay(80.0, 7.2, has_break_contact=True)),
        device("head", head),
        device("rest-lamp", warning),
        device("diode", Diode()),
        device("warning", warning),
        device("alternator", Charger(volts=14.2)),
    ]
    wires = [
        wire("1", "battery.pos", "fuse.1"),
        wire("2", "fuse.2", "switch.1"),
        wire("3", "switch.2", "relay.86", 0.05),
        wire("4", "relay.85", "frame.relay"),
        wire("5", "fuse.2", "relay.30"),
        wire("6", "relay.87", "head.1", 0.05),
        wire("7", "head.2", "frame.head"),
        wire("8", "relay.87a", "rest-lamp.1", 0.05),
        wire("9", "rest-lamp.2", "frame.rest"),
        wire("10", "switch.2", "diode.a", 0.05),
        wire("11", "diode.k", "warning.1", 0.05),
        wire("12", "warning.2", "frame.warning"),
        wire("13", "alternator.pos", "fuse.2", 0.02),
        wire("14", "alternator.neg", "frame.alternator"),
    ]
    return loom(devices, wires)


def starter() -> Harness:
    """Return a starter motor on a relay with a button and a plug in its coil's feed."""
    devices = [
        device("button", Switch(("OUT", "IN"), (("IN", (("1", "2"),)),), True)),
        device("plug", Plug(("1",))),
        device("relay", Relay(15.0, 7.2)),
        device("motor", Motor(ohms=0.12)),
    ]
    wires = [
        wire("1", "battery.pos", "button.1", 0.02),
        wire("2", "button.2", "plug.1a", 0.02),
        wire("3", "plug.1b", "relay.86", 0.02),
        wire("4", "relay.85", "frame.relay"),
        wire("5", "battery.pos", "relay.30", 0.003),
        wire("6", "relay.87", "motor.1", 0.003),
        wire("7", "motor.2", "frame.motor", 0.003),
    ]
    return loom(devices, wires)


def buzzer() -> Harness:
    """Return a relay that feeds its own coil through its break contact: it chatters."""
    relay = Relay(80.0, 7.2, has_break_contact=True)
    wires = [
        wire("1", "battery.pos", "relay.30"),
        wire("2", "relay.87a", "relay.86"),
        wire("3", "relay.85", "frame.relay"),
    ]
    return loom([device("relay", relay)], wires)


def brown_out() -> Harness:
    """Return a relay whose load and coil share a plug: a bad contact makes it buzz."""
    devices = [
        device("plug", Plug(("1",))),
        device("splice", Joint()),
        device("switch", Switch(("OFF", "ON"), (("ON", (("1", "2"),)),))),
        device("relay", Relay(80.0, 7.2)),
        device("heater", Load(ohms=2.0)),
    ]
    wires = [
        wire("1", "battery.pos", "plug.1a"),
        wire("2", "plug.1b", "splice.1"),
        wire("3", "splice.2", "switch.1"),
        wire("4", "switch.2", "relay.86"),
        wire("5", "relay.85", "frame.relay"),
        wire("6", "splice.3", "relay.30"),
        wire("7", "relay.87", "heater.1"),
        wire("8", "heater.2", "frame.heater"),
    ]
    return loom(devices, wires)


def positive_earth(h: Harness) -> Harness:
    """Return the loom turned round: the battery's poles, the chargers' and diodes'."""
    turned = {
        f"{d.id}.{pin}": f"{d.id}.{other}"
        for d in h.devices.values()
        if isinstance(d.spec, Battery | Charger | Diode)
        for pin, other in (d.pins, d.pins[::-1])
    }
    return replace(
        with_terminals(h, turned), earth="positive", title=h.title, volts=h.volts
    )


def with_terminals(h: Harness, names: Mapping[str, str]) -> Harness:
    """Return the loom with its wires' ends at other terminals."""
    wires = [
        replace(w, start=names.get(w.start, w.start), end=names.get(w.end, w.end))
        for w in h.wires.values()
    ]
    return Harness.build(
        title=h.title,
        volts=h.volts,
        earth=h.earth,
        places=h.places.values(),
        devices=in_order(h),
        wires=wires,
    )


def in_order(h: Harness) -> list[Device]:
    """Return the devices with the one that carries the clip first, as in a file."""
    first = (h.first_body or "").partition(".")[0]
    return sorted(h.devices.values(), key=lambda d: (d.id != first, d.id))


def renamed(
    h: Harness, *, devices: Mapping[str, str], wires: Mapping[str, str]
) -> Harness:
    """Return the loom with other ids for its devices and wires."""

    def end(terminal: str) -> str:
        owner, _, pin = terminal.partition(".")
        return f"{devices.get(owner, owner)}.{pin}"

    return Harness.build(
        title=h.title,
        volts=h.volts,
        earth=h.earth,
        places=h.places.values(),
        devices=[replace(d, id=devices.get(d.id, d.id)) for d in in_order(h)],
        wires=[
            replace(w, id=wires.get(w.id, w.id), start=end(w.start), end=end(w.end))
            for w in h.wires.values()
        ],
    )
