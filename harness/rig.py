"""The rig: what position everything is in while something is measured.

A rig is written as a mapping. Every switch may be named with a position; one that is
not named is in its rest position. Beside the switches there are the keys ``engine``
(``stopped`` or ``running``), ``battery-lead`` (``on`` or ``off``), ``unplugged``
(plugs, or single pins), ``removed`` (devices taken out) and ``jumpers`` (pairs of
terminals).
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal, cast

from harness.errors import HarnessError, Problem
from harness.kinds import Battery, Body, Joint, Plug, Switch
from harness.model import Harness
from harness.shorts import metal_route
from harness.suggestions import did_you_mean, listed, pins_are, quoted

Engine = Literal["stopped", "running"]
BatteryLead = Literal["on", "off"]
RESERVED = ("engine", "battery-lead", "unplugged", "removed", "jumpers")


@dataclass(frozen=True)
class Rig:
    """Everything that decides the circuit beside the harness itself.

    Two rigs of one harness are equal, and hash alike, when they say the same.

    Attributes
    ----------
    positions : tuple of (str, str)
        Every switch with its position, by id, those at rest as well.
    moved : tuple of (str, str)
        Only those that are not at rest.
    engine : {"stopped", "running"}
    battery_lead : {"on", "off"}
    unplugged : tuple of str
        Plug ids and single terminals (``horn.1``), sorted.
    removed : tuple of str
        Ids of devices taken out, sorted.
    jumpers : tuple of (str, str)
        Terminals joined by a jumper lead, sorted.
    """

    positions: tuple[tuple[str, str], ...] = ()
    moved: tuple[tuple[str, str], ...] = ()
    engine: Engine = "stopped"
    battery_lead: BatteryLead = "on"
    unplugged: tuple[str, ...] = ()
    removed: tuple[str, ...] = ()
    jumpers: tuple[tuple[str, str], ...] = ()

    @cached_property
    def switches(self) -> dict[str, str]:
        """Every switch and its position; read it, never write to it."""
        return dict(self.positions)

    @property
    def engine_running(self) -> bool:
        """Whether chargers feed."""
        return self.engine == "running"

    @property
    def battery_connected(self) -> bool:
        """Whether the battery's lead is on."""
        return self.battery_lead == "on"

    def as_mapping(self) -> dict[str, object]:
        """Return the smallest mapping that gives this rig again, fit for JSON.

        What is at rest or by default is left out; all is sorted.
        """
        mapping: dict[str, object] = dict(self.moved)
        if self.engine != "stopped":
            mapping["engine"] = self.engine
        if self.battery_lead != "on":
            mapping["battery-lead"] = self.battery_lead
        if self.unplugged:
            mapping["unplugged"] = list(self.unplugged)
        if self.removed:
            mapping["removed"] = list(self.removed)
        if self.jumpers:
            mapping["jumpers"] = [list(pair) for pair in self.jumpers]
        return dict(sorted(mapping.items()))


def rig_from(h: Harness, mapping: object = None, *, where: str = "rig") -> Rig:
    """Check a rig against a harness and fill in what it leaves out.

    Parameters
    ----------
    h : Harness
        The harness that it is for.
    mapping : object
        A mapping as read from a findings file or JSON; None is everything at rest.
    where : str
        What problems call it, such as ``findings[2].rig``.

    Returns
    -------
    Rig
        With every switch in it.

    Raises
    ------
    HarnessError
        With a problem for each unknown switch, position, plug, pin, device or key.
    """
    if mapping is None:
        mapping = {}
    if not isinstance(mapping, Mapping):
        what = f"a rig is a table of switches and positions, not {quoted(mapping)}"
        raise HarnessError((Problem(what, where, "write rig = { ... }"),))
    return _Reading(h, mapping, where).rig()


class _Reading:
    """One pass over a mapping, gathering problems."""

    def __init__(self, h: Harness, mapping: Mapping[str, object], where: str) -> None:
        self.h = h
        self.mapping = mapping
        self.where = where
        self.problems: list[Problem] = []
        self.rests = {
            d.id: d.spec.positions[0]
            for d in h.devices.values()
            if isinstance(d.spec, Switch)
        }

    def rig(self) -> Rig:
        moved = self._moved()
        rig = Rig(
            positions=tuple(sorted((self.rests | moved).items())),
            moved=tuple(sorted(moved.items())),
            engine=cast("Engine", self._word("engine", ("stopped", "running"))),
            battery_lead=cast("BatteryLead", self._word("battery-lead", ("on", "off"))),
            unplugged=self._names("unplugged", self._check_unplugged),
            removed=self._names("removed", self._check_removed),
            jumpers=self._jumpers(),
        )
        self._check_no_short(rig)
        if self.problems:
            raise HarnessError(tuple(self.problems))
        return rig

    def _check_no_short(self, rig: Rig) -> None:
        """Refuse jumpers that short a battery: they would burn."""
        if self.problems or not rig.jumpers or not rig.battery_connected:
            return
        for battery in self.h.devices.values():
            if not isinstance(battery.spec, Battery) or battery.id in rig.removed:
                continue
            route = metal_route(
                self.h.wires.values(),
                {d.id: d.spec for d in self.h.devices.values()},
                start=f"{battery.id}.pos",
                end=f"{battery.id}.neg",
                unplugged=rig.unplugged,
                jumpers=rig.jumpers,
            )
            if route is not None:
                what = f"the jumpers short {battery.id}: {listed(route)}"
                mend = "never bridge both poles: move the jumper"
                self._add(what, "jumpers", mend)

    def _add(self, what: str, key: str, mend: str) -> None:
        part = key if key.isprintable() else quoted(key)
        self.problems.append(Problem(what, f"{self.where}.{part}", mend))

    def _moved(self) -> dict[str, str]:
        moved = {}
        for key, value in self.mapping.items():
            if key in RESERVED:
                continue
            if key not in self.rests:
                self._unknown_switch(key)
                continue
            spec = cast("Switch", self.h.devices[key].spec)
            if not isinstance(value, str) or value not in spec.positions:
                self._add(
                    f"{key} has no position {quoted(value)}",
                    key,
                    did_you_mean(
                        value if isinstance(value, str) else "",
                        spec.positions,
                        kind=f"positions of {key}",
                    ),
                )
            elif value != self.rests[key]:
                moved[key] = value
        return moved

    def _unknown_switch(self, key: object) -> None:
        name = str(key)
        if name in self.h.devices:
            kind = self.h.devices[name].kind
            self._add(
                f"{name} is a {kind}, not a switch, and has no positions",
                name,
                f"the switches are {listed(sorted(self.rests)) or 'none'}",
            )
            return
        known = (*self.rests, *RESERVED)
        mend = did_you_mean(name, known, kind="switches and keys")
        self._add(f"there is no switch called {quoted(name)}", name, mend)

    def _word(self, key: str, words: tuple[str, str]) -> str:
        value = self.mapping.get(key, words[0])
        if isinstance(value, str) and value in words:
            return value
        self._add(
            f"{quoted(value)} is no word for {key}", key, f"write {listed(words)}"
        )
        return words[0]

    def _names(self, key: str, check: Callable[[str], None]) -> tuple[str, ...]:
        value = self.mapping.get(key, ())
        if not _is_list(value):
            mend = f'write {key} = ["..."]'
            self._add(f"a list of names is wanted, not {quoted(value)}", key, mend)
            return ()
        names = set()
        for name in cast("Sequence[object]", value):
            if isinstance(name, str):
                check(name)
                names.add(name)
            else:
                self._add(f"{quoted(name)} is not a name", key, "put it in quotes")
        return tuple(sorted(names))

    def _check_unplugged(self, name: str) -> None:
        plugs = [d.id for d in self.h.devices.values() if isinstance(d.spec, Plug)]
        if name in plugs:
            return
        if "." in name:
            self._terminal(name, "unplugged")
        elif name in self.h.devices:
            kind = self.h.devices[name].kind
            mend = "name single pins of it, or put it under removed"
            self._add(f"{name} is a {kind}, not a plug", "unplugged", mend)
        else:
            mend = did_you_mean(name, plugs, kind="plugs")
            self._add(f"there is no plug {quoted(name)}", "unplugged", mend)

    def _check_removed(self, name: str) -> None:
        device = self.h.devices.get(name)
        if device is None:
            mend = did_you_mean(name, self.h.devices, kind="devices")
            self._add(f"there is no device {quoted(name)}", "removed", mend)
        elif isinstance(device.spec, Body | Joint | Plug):
            what = f"a {device.kind} is not taken out: {name}"
            mend = "put the plug, or the pins that are off, under unplugged"
            self._add(what, "removed", mend)

    def _terminal(self, name: str, key: str) -> None:
        device, _, pin = name.partition(".")
        if device not in self.h.devices:
            mend = did_you_mean(device, self.h.devices, kind="devices")
            self._add(f"there is no device {quoted(device)}", key, mend)
        elif pin not in self.h.devices[device].pins:
            pins = self.h.devices[device].pins
            mend = pins_are(device, pin, pins)
            self._add(f"{device} has no pin {quoted(pin)}", key, mend)

    def _jumpers(self) -> tuple[tuple[str, str], ...]:
        value = self.mapping.get("jumpers", ())
        mend = 'write jumpers = [["horn.2", "frame.e"]]'
        if not _is_list(value):
            what = f"a list of pairs is wanted, not {quoted(value)}"
            self._add(what, "jumpers", mend)
            return ()
        pairs = set()
        for pair in cast("Sequence[object]", value):
            if not _is_pair(pair):
                self._add("a jumper joins two terminals", "jumpers", mend)
                continue
            first, second = sorted(cast("Sequence[str]", pair))
            self._terminal(first, "jumpers")
            self._terminal(second, "jumpers")
            if first == second:
                what = f"a jumper from {first} to itself does nothing"
                self._add(what, "jumpers", "name another terminal")
            pairs.add((first, second))
        return tuple(sorted(pairs))


def _is_list(value: object) -> bool:
    return isinstance(value, Sequence) and not isinstance(value, str | bytes)


def _is_pair(value: object) -> bool:
    if not _is_list(value):
        return False
    items = cast("Sequence[object]", value)
    return len(items) == 2 and all(isinstance(item, str) for item in items)  # noqa: PLR2004 - two ends
