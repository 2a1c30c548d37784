"""A loom with one of every kind of part, so that no rate goes untried."""

from functools import cache

from harness.files import loads
from harness.model import Harness

EVERY_KIND = """\
schema = 1
title = "One of everything"
volts = 12
earth = "negative"

[places.tray]
name = "Battery tray"

[places.bars]
name = "Handlebar"

[places.tail]
name = "Tail lamp"

[devices.battery]
kind = "battery"
place = "tray"

[devices.frame]
kind = "body"
place = "tray"

[devices.engine]
kind = "body"
place = "tray"

[devices.fuse]
kind = "fuse"
amps = 15
place = "tray"

[devices.key]
kind = "switch"
positions = ["OFF", "ON"]
joins = { ON = [["1", "2"]] }
place = "bars"

[devices.plug]
kind = "plug"
cavities = ["1", "2"]
place = "tail"

[devices.splice]
kind = "joint"
place = "tail"

[devices.relay]
kind = "relay"
coil_ohms = 80
place = "tray"

[devices.lamp]
kind = "lamp"
watts = 21
place = "tail"

[devices.pilot]
kind = "lamp"
watts = 5
place = "bars"

[devices.horn]
kind = "load"
ohms = 4
place = "bars"

[devices.starter]
kind = "motor"
ohms = 0.1
place = "tray"

[devices.unit]
kind = "box"
links = [{ between = ["a", "b"], ohms = 12 }]
place = "tray"

[devices.diode]
kind = "diode"
place = "tray"

[devices.alternator]
kind = "charger"
place = "tray"
"""

# Id, from, to, kind.
WIRES = (
    ("01", "battery.pos", "fuse.1", "cable"),
    ("02", "battery.neg", "frame.battery", "cable"),
    ("03", "fuse.2", "key.1", "wire"),
    ("04", "key.2", "plug.1a", "wire"),
    ("05", "plug.1b", "splice.1", "wire"),
    ("06", "splice.2", "lamp.1", "wire"),
    ("07", "lamp.2", "frame.lamp", "wire"),
    ("08", "key.2", "plug.2a", "wire"),
    ("09", "plug.2b", "unit.a", "wire"),
    ("10", "unit.b", "frame.unit", "wire"),
    ("11", "key.2", "horn.1", "wire"),
    ("12", "horn.2", "frame.horn", "wire"),
    ("13", "key.2", "relay.86", "wire"),
    ("14", "relay.85", "frame.relay", "wire"),
    ("15", "fuse.2", "relay.30", "wire"),
    ("16", "relay.87", "starter.1", "cable"),
    ("17", "starter.2", "engine.starter", "mount"),
    ("18", "engine.strap", "frame.strap", "strap"),
    ("19", "key.2", "diode.a", "wire"),
    ("20", "diode.k", "pilot.1", "wire"),
    ("21", "pilot.2", "frame.pilot", "wire"),
    ("22", "alternator.pos", "fuse.2", "wire"),
    ("23", "alternator.neg", "frame.alternator", "wire"),
)


@cache
def every_kind() -> Harness:
    return loads(EVERY_KIND + "".join(_wire(*row) for row in WIRES))


def _wire(id_: str, start: str, end: str, kind: str) -> str:
    ends = f'[[wires]]\nid = "{id_}"\nfrom = "{start}"\nto = "{end}"\n'
    metal = "" if kind == "mount" else 'colour = "RD"\nmm2 = 1.0\nmetres = 0.5\n'
    return f'{ends}kind = "{kind}"\n{metal}\n'
