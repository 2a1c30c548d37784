"""A finding: one test, the rig it was made in, and what it read."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, get_args

import numpy as np

from harness.errors import HarnessError, Problem
from harness.kinds import Body, Fuse
from harness.model import Harness
from harness.network import compile_network
from harness.rig import Rig, rig_from
from harness.segments import segments_of
from harness.suggestions import did_you_mean

Tool = Literal["test-lamp", "voltmeter", "ohmmeter", "ammeter", "eye"]
TOOLS: tuple[Tool, ...] = get_args(Tool)
LAMP_READS = ("lit", "dim", "dark")
EYE_READS = ("works", "weak", "dead")
FUSE_READS = ("intact", "blown")
UNITS: dict[Tool, str] = {"voltmeter": "V", "ohmmeter": "ohm", "ammeter": "A"}
MOST_AMPS = 1000.0


@dataclass(frozen=True, slots=True)
class Test:
    """What is done: a tool, in a rig, at two terminals, at a device or round a wire.

    `device` is set for the eye only, `wire` (its id) for the ammeter only; `probe` and
    `clip` for the other tools. The ammeter is a clamp round the wire close to its
    `from` end; it counts the current that runs from there to the other end.
    """

    __test__ = False  # not a test case, whatever pytest may think

    rig: Rig
    tool: Tool
    probe: str = ""
    clip: str = ""
    device: str = ""
    wire: str = ""


@dataclass(frozen=True, slots=True)
class Finding:
    """A test and what it read: one of the tool's words, or a number.

    `value` is volts, ohms or amperes for the meters (infinite ohms for ``open``), else
    NaN. `moving` says that the loom was being moved about while it was read.
    """

    id: str
    test: Test
    reads: str
    value: float = float("nan")
    moving: bool = False


def is_fuse(h: Harness, device: str) -> bool:
    """Return whether a device named in a finding is a fuse."""
    return device in h.devices and isinstance(h.devices[device].spec, Fuse)


def segment_seen(h: Harness, device: str) -> str:
    """Return the segment that the eye judges when it looks at a device."""
    return f"fuse:{device}" if is_fuse(h, device) else f"device:{device}"


def _refuse(where: str, what: str, mend: str) -> HarnessError:
    return HarnessError((Problem(what=what, where=where, mend=mend),))


_KEYS = {
    "id", "rig", "tool", "probe", "clip", "device", "wire", "reads", "moving",
    "at", "by", "note",
}  # fmt: skip


def finding_from(h: Harness, given: Mapping[str, object], *, id_: str) -> Finding:
    """Check a finding against a harness.

    Parameters
    ----------
    h : Harness
    given : mapping
        As in a findings file: ``rig``, ``tool``; ``probe`` and ``clip``, ``device`` or
        ``wire``; ``reads``; and ``moving``, ``id``, ``at``, ``by``, ``note``.
    id_ : str
        What to call it when it has no ``id``.

    Raises
    ------
    HarnessError
        When a part is unknown or the finding cannot be taken.
    """
    name = str(given.get("id") or id_)
    if unknown := sorted(set(given) - _KEYS):
        raise _refuse(
            name, f"there is no key {unknown[0]!r}", f"use {', '.join(sorted(_KEYS))}"
        )
    test = test_from(h, given, where=name)
    reads, value = _reading(h, test, given.get("reads"), name)
    moving = moved_while_read(given, where=name)
    return Finding(id=name, test=test, reads=reads, value=value, moving=moving)


def moved_while_read(given: Mapping[str, object], *, where: str) -> bool:
    """Return whether a finding or test says that the loom is moved meanwhile."""
    moving = given.get("moving", False)
    if not isinstance(moving, bool):
        what = f"moving is {moving!r}, which is neither true nor false"
        raise _refuse(where, what, "say moving = true, or leave it out")
    return moving


def test_from(h: Harness, given: Mapping[str, object], *, where: str) -> Test:
    """Check the test part of a finding; see `finding_from`."""
    rig_given = given.get("rig", {})
    if not isinstance(rig_given, Mapping):
        raise _refuse(where, "rig is not a table", 'write rig = { key-switch = "ON" }')
    rig = rig_from(h, rig_given, where=f"{where}.rig")
    tool = given.get("tool")
    if tool not in TOOLS:
        raise _refuse(where, f"no tool is called {tool!r}", f"use {', '.join(TOOLS)}")
    _check_only(given, tool, where)
    if tool == "eye":
        return Test(rig=rig, tool="eye", device=_seen_device(h, given, where, rig))
    if tool == "ammeter":
        return Test(rig=rig, tool="ammeter", wire=_clamped(h, given, where))
    if tool == "ohmmeter":
        _check_dead(rig, where)
    probe = _terminal(h, given.get("probe"), "probe", where)
    clip = _terminal(h, given.get("clip") or h.first_body, "clip", where)
    net = compile_network(h, rig)
    if net.node_of[probe] == net.node_of[clip]:
        raise _refuse(
            where, f"probe {probe} and clip {clip} are one point", "move one of them"
        )
    return Test(rig=rig, tool=tool, probe=probe, clip=clip)


# What each tool names beside itself; the other keys are refused.
_PLACES: dict[Tool, tuple[str, ...]] = {
    "test-lamp": ("probe", "clip"),
    "voltmeter": ("probe", "clip"),
    "ohmmeter": ("probe", "clip"),
    "ammeter": ("wire",),
    "eye": ("device",),
}
_TOLD = {
    "eye": ("the eye has no probe or clip", "name the device alone"),
    "ammeter": ("a clamp goes round one wire", "name the wire alone"),
}


def _check_only(given: Mapping[str, object], tool: Tool, where: str) -> None:
    """Refuse a place that the tool does not have."""
    for key in ("probe", "clip", "device", "wire"):
        if given.get(key) and key not in _PLACES[tool]:
            own = (f"the {tool} has no {key}", "leave it out")
            what, mend = _TOLD.get(tool, own)
            raise _refuse(where, what, mend)


def _check_dead(rig: Rig, where: str) -> None:
    """Refuse an ohmmeter on a loom that something feeds."""
    if rig.engine_running:
        raise _refuse(
            where,
            "an ohmmeter cannot be used with the engine running: its charging side "
            "feeds the loom",
            "stop the engine, and only then take the battery lead off",
        )
    if rig.battery_connected:
        raise _refuse(
            where,
            "an ohmmeter cannot be used with the battery connected",
            'lift the earthed lead and say battery-lead = "off"',
        )


def _clamped(h: Harness, given: Mapping[str, object], where: str) -> str:
    """Return the wire that the clamp goes round."""
    named = given.get("wire")
    if not isinstance(named, str) or named not in h.wires:
        mend = did_you_mean(str(named or ""), h.wires, kind="wires")
        raise _refuse(where, f"{named!r} is no wire of this harness", mend)
    if h.wires[named].kind == "mount":
        raise _refuse(
            where,
            f"{named} is metal bolted to metal: there is no wire to clamp",
            "measure the volts across it instead",
        )
    return named


def _terminal(h: Harness, named: object, key: str, where: str) -> str:
    if not isinstance(named, str) or not _known_terminal(h, named):
        what = f"{key} {named!r} is no terminal of this harness"
        raise _refuse(where, what, "name a device and one of its pins: horn.1")
    return named


def _known_terminal(h: Harness, terminal: str) -> bool:
    device, _, pin = terminal.partition(".")
    found = h.devices.get(device)
    if found is None:
        return False
    return pin in found.pins or (
        isinstance(found.spec, Body) and terminal in h.terminals
    )


def _seen_device(h: Harness, given: Mapping[str, object], where: str, rig: Rig) -> str:
    device = given.get("device")
    if not isinstance(device, str) or segment_seen(h, device) not in segments_of(h):
        raise _refuse(
            where,
            f"there is nothing to look at called {device!r}",
            "name a lamp, a filament (rear-lamp.stop), a load, a motor or a fuse",
        )
    if device.partition(".")[0] in rig.removed and not is_fuse(h, device):
        raise _refuse(where, f"{device} is taken out in this rig", "put it back first")
    return device


def _reading(h: Harness, test: Test, reads: object, where: str) -> tuple[str, float]:
    if test.tool == "test-lamp":
        return _word(reads, LAMP_READS, where), float("nan")
    if test.tool == "eye":
        words = FUSE_READS if is_fuse(h, test.device) else EYE_READS
        return _word(reads, words, where), float("nan")
    if test.tool == "ohmmeter" and reads == "open":
        return "open", float("inf")
    try:
        value = float(str(reads).replace(",", "."))
    except ValueError:
        value = float("nan")
    if isinstance(reads, bool) or not np.isfinite(value):
        other = ", or open" if test.tool == "ohmmeter" else ""
        raise _refuse(where, f"{reads!r} is not a reading", f"give a number{other}")
    _check_size(h, test.tool, value, where)
    return f"{value:g}", value


def _check_size(h: Harness, tool: Tool, value: float, where: str) -> None:
    """Refuse a number that the meter cannot have shown on this loom."""
    if tool == "ohmmeter" and value < 0:
        raise _refuse(where, "ohms are never negative", "give ohms, or open")
    if tool == "voltmeter" and abs(value) > 10 * h.volts:
        what = f"{value:g} V cannot be read on a {h.volts:g} V loom"
        raise _refuse(where, what, "check the meter's range and the decimal point")
    if tool == "ammeter" and abs(value) > MOST_AMPS:
        what = f"{value:g} A is more than any wire of a motorcycle carries"
        raise _refuse(where, what, "check whether the clamp was set to milliamperes")


def _word(reads: object, words: tuple[str, ...], where: str) -> str:
    if reads not in words:
        raise _refuse(
            where, f"{reads!r} is not a reading here", f"use {', '.join(words)}"
        )
    return str(reads)
