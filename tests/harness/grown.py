"""Looms of any size for the bars on speed and growth: grown from a number, not drawn.

A grown loom has what a bike's loom has: a standing and a switched feed in chains of
blocks, fuses that two circuits share, switches on either side of the consumer, relays,
tell-tales behind diodes, plugs between the places, splices, and returns by metal and by
shared earth blocks. The same number gives the same loom.
"""

import random
from collections.abc import Callable
from functools import cache

import harness
from harness.model import Harness

# id, minutes of access, whether it has metal of its own to earth on
PLACES = (
    ("battery-tray", 2, True),
    ("fuse-box", 1, False),
    ("headlamp-shell", 4, True),
    ("handlebar", 1, False),
    ("clocks", 5, False),
    ("headstock", 8, False),
    ("engine-side", 5, True),
    ("tail", 2, True),
    ("rear-guard", 6, True),
    ("side-panel", 2, False),
)
COLOURS = ("RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "TQ")
PINS_A_BLOCK = 7
CAVITIES_A_PLUG = 8
LAMP_WATTS = (2, 3, 5, 10, 21)


@cache
def grown(segments: int) -> Harness:
    """Return a loom of exactly so many segments (60 or more)."""
    circuits = 0
    while _Loom(circuits + 1).segments <= segments:
        circuits += 1
    lacking = segments - _Loom(circuits).segments
    loom = _Loom(circuits, passed=lacking // 2, straps=lacking % 2)
    return harness.loads(loom.text(), name=f"grown-{segments}.toml")


class _Loom:
    """The text of a loom as it grows, and how many segments it has so far.

    `passed` leads go through a plug more than they need, and `straps` are added between
    engine and frame: so that the number comes out.
    """

    def __init__(self, circuits: int, *, passed: int = 0, straps: int = 0) -> None:
        self.segments = 0
        self.devices: list[str] = []
        self.wires: list[str] = []
        self.passed = passed
        self.pins: dict[str, int] = {}
        self.blocks: dict[str, str] = {}
        self.plugs: dict[tuple[str, str], tuple[str, int]] = {}
        self.cavities: dict[str, int] = {}
        self.chance = random.Random("the loom that all share")
        self._trunk(straps)
        for k in range(circuits):
            self.chance = random.Random(f"circuit {k}")
            self._circuit(k)

    def text(self) -> str:
        """Return the harness file."""
        head = ["schema = 1", 'title = "Grown"', "volts = 12", 'earth = "negative"']
        for place, minutes, _ in PLACES:
            head += [f"[places.{place}]", f'name = "{place}"']
            head += [f"access_minutes = {minutes}"]
        plugs = [
            _device(plug, "plug", place, cavities=[str(n + 1) for n in range(count)])
            for (plug, count), place in zip(
                self.cavities.items(), self._plug_places(), strict=True
            )
        ]
        return "\n".join((*head, *self.devices, *plugs, *self.wires)) + "\n"

    def _plug_places(self) -> list[str]:
        places = [place for place, _, _ in PLACES]
        return [places[n % len(places)] for n in range(len(self.cavities))]

    def add(self, name: str, kind: str, place: str, **keys: object) -> None:
        """Add a device; its segments are counted here but for plugs and blocks."""
        self.devices.append(_device(name, kind, place, **keys))
        joins = keys.get("joins")
        contacts = len(joins) if isinstance(joins, dict) else 0
        count = {"relay": 2, "switch": contacts, "body": 0, "joint": 0}
        self.segments += count.get(kind, 1)

    def wire(self, start: str, end: str, *, mm2: float = 1.0) -> None:
        """Add a wire of some colour and length."""
        # Of its own, so that a wire more changes nothing that is chosen after it.
        chance = random.Random(f"wire from {start} to {end}")
        metres = round(chance.uniform(0.1, 1.2), 2)
        keys = {"colour": chance.choice(COLOURS), "mm2": mm2, "metres": metres}
        self._joined(start, end, keys)

    def mount(self, start: str, end: str) -> None:
        """Add metal on metal."""
        self._joined(start, end, {"kind": "mount"})

    def strap(self, start: str, end: str) -> None:
        """Add a strap."""
        keys = {"kind": "strap", "colour": "BK", "mm2": 10.0, "metres": 0.3}
        self._joined(start, end, keys)

    def _joined(self, start: str, end: str, keys: dict[str, object]) -> None:
        number = len(self.wires) + 1
        row = {"id": str(number), "from": start, "to": end} | keys
        lines = [f"{key} = {_value(value)}" for key, value in row.items()]
        self.wires.append("\n".join(("[[wires]]", *lines)))
        self.segments += 1

    def lead(self, start: str, end: str, way: tuple[str, str]) -> None:
        """Run a wire between two places: through a plug where they differ."""
        if way[0] == way[1]:
            self.wire(start, end)
            return
        if self.passed > 0:
            self.passed -= 1
            start = self._through(start, ("extra", way[0]))
        self.wire(self._through(start, way), end)

    def _through(self, start: str, way: tuple[str, str]) -> str:
        """Run a wire to a free cavity between two places; return its far face."""
        plug, used = self.plugs.get(way, ("", CAVITIES_A_PLUG))
        if used == CAVITIES_A_PLUG:
            plug, used = f"plug-{len(self.cavities) + 1}", 0
        self.plugs[way] = (plug, used + 1)
        self.cavities[plug] = used + 1
        self.segments += 1
        self.wire(start, f"{plug}.{used + 1}a")
        return f"{plug}.{used + 1}b"

    def block_pin(self, line: str, place: str) -> str:
        """Return a free pin of a line's block; a full one is followed by another."""
        block = self.blocks.get(line, "")
        if not block or self.pins[block] == PINS_A_BLOCK:
            following = f"{line}-{sum(b.startswith(line) for b in self.pins) + 1}"
            self.pins[following] = 0
            self.add(following, "joint", place)
            if block:
                self.wire(self._pin(block), self._pin(following), mm2=4.0)
            self.blocks[line] = block = following
        return self._pin(block)

    def _pin(self, block: str) -> str:
        self.pins[block] += 1
        self.segments += 1
        return f"{block}.{self.pins[block]}"

    def _trunk(self, straps: int) -> None:
        """Add battery, charger, main fuse, key switch and the metal."""
        for place, _, metal in PLACES:
            if metal:
                self.add(f"metal-{place}", "body", place)
        frame, engine = "metal-battery-tray", "metal-engine-side"
        self.add("battery", "battery", "battery-tray", emf=12.6, ohms=0.01)
        self.add("alternator", "charger", "engine-side")
        self.add("main-fuse", "fuse", "battery-tray", amps=60)
        on = {"ON": [["30", "15"]]}
        self.add("key-switch", "switch", "clocks", positions=["OFF", "ON"], joins=on)
        self.wire("battery.pos", "main-fuse.1", mm2=6.0)
        self.wire("main-fuse.2", self.block_pin("feed", "fuse-box"), mm2=6.0)
        self.wire("alternator.pos", self.block_pin("feed", "fuse-box"), mm2=4.0)
        self.wire(self.block_pin("feed", "fuse-box"), "key-switch.30", mm2=4.0)
        self.wire("key-switch.15", self.block_pin("switched", "fuse-box"), mm2=4.0)
        self.strap("battery.neg", f"{frame}.battery")
        self.mount("alternator.neg", f"{engine}.case")
        for number in range(2 + straps):
            self.strap(f"{engine}.strap", f"{frame}.strap-{number}")
        for place, _, metal in PLACES:
            if metal and place not in {"battery-tray", "engine-side"}:
                self.mount(f"metal-{place}.bolts", f"{frame}.{place}")

    def _circuit(self, k: int) -> None:
        """Add a circuit: what it is goes round, so that every loom has all kinds."""
        kinds: tuple[Callable[[int, str], None], ...] = (
            self._plain,
            self._two_sided,
            self._earth_switched,
            self._plain,
            self._relayed,
            self._plain,
        )
        kinds[k % len(kinds)](k, self._fused(k))

    def _fused(self, k: int) -> str:
        """Return a pin behind a fuse that two circuits share."""
        pair = k // 2
        line = f"fused-{pair}"
        if line not in self.blocks:
            fuse = f"fuse-{pair}"
            self.add(fuse, "fuse", "fuse-box", amps=20)
            feed = "feed" if pair % 3 == 0 else "switched"
            self.wire(self.block_pin(feed, "fuse-box"), f"{fuse}.1", mm2=2.5)
            self.wire(f"{fuse}.2", self.block_pin(line, "fuse-box"), mm2=2.5)
        return self.block_pin(line, "fuse-box")

    def _switch(self, k: int, *outs: str) -> tuple[str, str]:
        place = self.chance.choice(("handlebar", "clocks", "side-panel"))
        joins = {f"ON-{out}": [["1", out]] for out in outs}
        self.add(f"switch-{k}", "switch", place, positions=["OFF", *joins], joins=joins)
        return f"switch-{k}", place

    def _plain(self, k: int, feed: str) -> None:
        switch, place = self._switch(k, "2")
        self.lead(feed, f"{switch}.1", ("fuse-box", place))
        self._lamps(f"{k}", f"{switch}.2", place, self.chance.randint(1, 3))

    def _two_sided(self, k: int, feed: str) -> None:
        """Add a switch with two ways, and a tell-tale behind a diode from each."""
        switch, place = self._switch(k, "L", "R")
        self.lead(feed, f"{switch}.1", ("fuse-box", place))
        self.add(f"telltale-{k}", "lamp", "clocks", watts=2)
        for side in "LR":
            self._lamps(f"{k}-{side}", f"{switch}.{side}", place, 2)
            diode = f"diode-{k}-{side}"
            self.add(diode, "diode", "headlamp-shell")
            splice = self.block_pin(f"splice-{k}-{side}", "headlamp-shell")
            self.wire(splice, f"{diode}.a", mm2=0.5)
            self.wire(f"{diode}.k", f"telltale-{k}.1", mm2=0.5)
        self._earthed(f"telltale-{k}.2", "clocks")

    def _earth_switched(self, k: int, feed: str) -> None:
        switch, place = self._switch(k, "31")
        horn = f"horn-{k}"
        self.add(horn, "load", "headstock", watts=self.chance.choice((12, 24, 30)))
        self.lead(feed, f"{horn}.1", ("fuse-box", "headstock"))
        self.lead(f"{horn}.2", f"{switch}.1", ("headstock", place))
        self._earthed(f"{switch}.31", place)

    def _relayed(self, k: int, feed: str) -> None:
        switch, place = self._switch(k, "2")
        relay = f"relay-{k}"
        self.add(relay, "relay", "fuse-box", coil_ohms=80)
        self.wire(feed, f"{relay}.30", mm2=1.5)
        self.lead(f"{relay}.30", f"{switch}.1", ("fuse-box", place))
        self.lead(f"{switch}.2", f"{relay}.86", (place, "fuse-box"))
        self._earthed(f"{relay}.85", "fuse-box")
        self._lamps(f"{k}", f"{relay}.87", "fuse-box", 2)

    def _lamps(self, name: str, start: str, place: str, count: int) -> None:
        """Add lamps behind a splice."""
        splice = f"splice-{name}"
        at = self.chance.choice(("headlamp-shell", "tail", "clocks", "rear-guard"))
        self.lead(start, self.block_pin(splice, at), (place, at))
        for number in range(count):
            lamp = f"lamp-{name}-{number}"
            there = self.chance.choice((at, "headlamp-shell", "rear-guard", "tail"))
            self.add(lamp, "lamp", there, watts=self.chance.choice(LAMP_WATTS))
            self.lead(self.block_pin(splice, at), f"{lamp}.1", (at, there))
            self._earthed(f"{lamp}.2", there)

    def _earthed(self, terminal: str, place: str) -> None:
        """Return a consumer through the metal that it sits on, or an earth block."""
        metal = any(p == place and own for p, _, own in PLACES)
        if metal and self.chance.random() < 1 / 2:
            self.mount(terminal, f"metal-{place}.{terminal.replace('.', '-')}")
            return
        line = f"earth-{place}"
        if line not in self.blocks:
            pin = self.block_pin(line, place)
            self.wire(pin, f"metal-battery-tray.{line}", mm2=2.5)
        self.wire(terminal, self.block_pin(line, place), mm2=0.75)


def _device(name: str, kind: str, place: str, **keys: object) -> str:
    rows = {"kind": kind, "place": place} | keys
    lines = [f"{key} = {_value(value)}" for key, value in rows.items()]
    return "\n".join((f"[devices.{name}]", *lines))


def _value(value: object) -> str:
    if isinstance(value, dict):
        inside = ", ".join(f"{key} = {_value(part)}" for key, part in value.items())
        return f"{{ {inside} }}"
    if isinstance(value, list):
        return f"[{', '.join(map(_value, value))}]"
    return f'"{value}"' if isinstance(value, str) else str(value)
