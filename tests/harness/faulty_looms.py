"""Looms of round figures, in which what a fault does is worked out by hand.

Every wire has 0.01 ohm, a switch or relay contact 0.01, a plug contact 0.005; the
battery gives 12.6 V behind 0.02 ohm, and its earth wire has 0.01.
"""

from harness.kinds import Box, Diode, Fuse, Link, Load, Plug, Relay, Switch
from harness.model import Device, Harness
from tests.harness.library import Rig
from tests.harness.small_looms import device, loom, wire

EMF_V = 12.6
# Battery and earth wire.
SOURCE_OHM = 0.03
# The test lamp's.
LAMP_OHM = 48.0
# A chafe, a crossing or a short.
TOUCH_OHM = 0.05


def shut(*switches: str) -> Rig:
    """Return the rig with these switches shut."""
    return dict.fromkeys(switches, "IN")


def switch(name: str) -> Device:
    return device(name, Switch(("OUT", "IN"), (("IN", (("1", "2"),)),)))


# Of `side_by_side`, from the battery's feed post: to the plug's face a, and on through
# each heater and home.
TO_PLUG = 0.05
LEFT = TO_PLUG + 0.005 + 0.01 + 4 + 0.01 + 0.005 + 0.01
RIGHT = TO_PLUG + 0.005 + 0.01 + 6 + 0.01


def side_by_side() -> Harness:
    """Return two heaters, 4 and 6 ohm, on one fuse and one plug.

    The left one's return comes back through the plug, the right one has its own.
    """
    devices = [
        device("fuse", Fuse(amps=10.0, ohms=0.01)),
        switch("left"),
        switch("right"),
        device("plug", Plug(("1", "2", "3"))),
        device("heater-left", Load(ohms=4.0)),
        device("heater-right", Load(ohms=6.0)),
    ]
    wires = [
        wire("1", "battery.pos", "fuse.1"),
        wire("2", "fuse.2", "left.1"),
        wire("3", "fuse.2", "right.1"),
        wire("4", "left.2", "plug.1a"),
        wire("5", "right.2", "plug.2a"),
        wire("6", "plug.1b", "heater-left.1"),
        wire("7", "plug.2b", "heater-right.1"),
        wire("8", "heater-left.2", "plug.3b"),
        wire("9", "plug.3a", "frame.left"),
        wire("10", "heater-right.2", "frame.right"),
    ]
    return loom(devices, wires)


def changeover() -> Harness:
    """Return a relay that changes its feed over from the right heater to the left."""
    devices = [
        switch("switch"),
        device("relay", Relay(80.0, 7.2, has_break_contact=True)),
        device("heater-left", Load(ohms=4.0)),
        device("heater-right", Load(ohms=6.0)),
    ]
    wires = [
        wire("1", "battery.pos", "relay.30"),
        wire("2", "battery.pos", "switch.1"),
        wire("3", "switch.2", "relay.86"),
        wire("4", "relay.85", "frame.relay"),
        wire("5", "relay.87", "heater-left.1"),
        wire("6", "heater-left.2", "frame.left"),
        wire("7", "relay.87a", "heater-right.1"),
        wire("8", "heater-right.2", "frame.right"),
    ]
    return loom(devices, wires)


def switched_both_ends() -> Harness:
    """Return loads of 10 and 20 ohm, each with a switch before and one after it.

    At rest both float. Cavities 1 and 3 are the first load's, 2 and 4 the other's.
    """
    devices = [
        *(switch(name) for name in ("feed-a", "feed-b", "return-a", "return-b")),
        device("plug", Plug(("1", "2", "3", "4"))),
        device("load-a", Load(ohms=10.0)),
        device("load-b", Load(ohms=20.0)),
    ]
    wires = []
    for side, there, back in (("a", 1, 3), ("b", 2, 4)):
        wires += [
            wire(f"{side}0", "battery.pos", f"feed-{side}.1"),
            wire(f"{side}1", f"feed-{side}.2", f"plug.{there}a"),
            wire(f"{side}2", f"plug.{there}b", f"load-{side}.1"),
            wire(f"{side}3", f"load-{side}.2", f"plug.{back}b"),
            wire(f"{side}4", f"plug.{back}a", f"return-{side}.1"),
            wire(f"{side}5", f"return-{side}.2", f"frame.{side}"),
        ]
    return loom(devices, wires)


def behind_diodes() -> Harness:
    """Return a feed that two diodes share out to loads of 10 and 20 ohm."""
    devices = [
        switch("feed"),
        switch("return"),
        device("diode-a", Diode(drop_v=0.7, ohms=0.05)),
        device("diode-b", Diode(drop_v=0.7, ohms=0.05)),
        device("load-a", Load(ohms=10.0)),
        device("load-b", Load(ohms=20.0)),
    ]
    wires = [
        wire("1", "battery.pos", "feed.1"),
        wire("2", "feed.2", "diode-a.a"),
        wire("3", "feed.2", "diode-b.a"),
        wire("4", "diode-a.k", "load-a.1"),
        wire("5", "diode-b.k", "load-b.1"),
        wire("6", "load-a.2", "return.1"),
        wire("7", "load-b.2", "return.1"),
        wire("8", "return.2", "frame.return"),
    ]
    return loom(devices, wires)


def near_its_limit() -> Harness:
    """Return a 2 A fuse that carries 2.6 A: it opens at 2.7."""
    devices = [
        device("fuse", Fuse(amps=2.0, ohms=0.01)),
        device("heater", Load(ohms=4.8)),
    ]
    wires = [
        wire("1", "battery.pos", "fuse.1"),
        wire("2", "fuse.2", "heater.1"),
        wire("3", "heater.2", "frame.heater"),
    ]
    return loom(devices, wires)


def self_shorting() -> Harness:
    """Return a relay whose contact earths its own coil's feed: fed, it buzzes."""
    devices = [switch("feed"), device("relay", Relay(80.0, 7.2))]
    wires = [
        wire("1", "battery.pos", "feed.1"),
        wire("2", "relay.86", "relay.87"),
        wire("3", "relay.85", "frame.coil"),
        wire("4", "relay.30", "frame.contact"),
    ]
    return loom(devices, wires)


def boxed() -> Harness:
    """Return a box of two resistances in a row, 3 and 5 ohm, tapped between them."""
    devices = [device("box", Box((Link(("a", "b"), 3.0), Link(("b", "c"), 5.0))))]
    wires = [
        wire("1", "battery.pos", "box.a"),
        wire("2", "box.c", "frame.box"),
    ]
    return loom(devices, wires)


def parallel(*ohms: float) -> float:
    """Return the resistance of some side by side."""
    return 1.0 / sum(1.0 / ohm for ohm in ohms)
