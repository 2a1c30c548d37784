"""A finding: one test, the rig it was made in, and what it read."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, cast, get_args

import numpy as np

from harness.errors import HarnessError, Problem
from harness.kinds import Body, Fuse
from harness.model import Harness
from harness.network import compile_network
from harness.rig import Rig, rig_from
from harness.segments import segments_of

Tool = Literal["test-lamp", "voltmeter", "ohmmeter", "eye"]
TOOLS: tuple[Tool, ...] = get_args(Tool)
LAMP_READS = ("lit", "dim", "dark")
EYE_READS = ("works", "weak", "dead")
FUSE_READS = ("intact", "blown")


@dataclass(frozen=True, slots=True)
class Test:
    """What is done: a tool, in a rig, at two terminals or at a device.

    `device` is set for the eye only; `probe` and `clip` for the other tools.
    """

    __test__ = False  # not a test case, whatever pytest may think

    rig: Rig
    tool: Tool
    probe: str = ""
    clip: str = ""
    device: str = ""


@dataclass(frozen=True, slots=True)
class Finding:
    """A test and what it read: one of the tool's words, or a number.

    `value` is volts or ohms for the meters (infinite ohms for ``open``), else NaN.
    """

    id: str
    test: Test
    reads: str
    value: float = float("nan")


def is_fuse(h: Harness, device: str) -> bool:
    """Return whether a device named in a finding is a fuse."""
    return device in h.devices and isinstance(h.devices[device].spec, Fuse)


def segment_seen(h: Harness, device: str) -> str:
    """Return the segment that the eye judges when it looks at a device."""
    return f"fuse:{device}" if is_fuse(h, device) else f"device:{device}"


def _refuse(where: str, what: str, mend: str) -> HarnessError:
    return HarnessError((Problem(what=what, where=where, mend=mend),))


_KEYS = {
    "id", "rig", "tool", "probe", "clip", "device", "reads", "at", "by", "note",
}  # fmt: skip


def finding_from(h: Harness, given: Mapping[str, object], *, id_: str) -> Finding:
    """Check a finding against a harness.

    Parameters
    ----------
    h : Harness
    given : mapping
        As in a findings file: ``rig``, ``tool``, ``probe``, ``clip`` or ``device``,
        ``reads``; and ``id``, ``at``, ``by``, ``note``.
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
    return Finding(id=name, test=test, reads=reads, value=value)


def test_from(h: Harness, given: Mapping[str, object], *, where: str) -> Test:
    """Check the test part of a finding; see `finding_from`."""
    rig_given = given.get("rig", {})
    if not isinstance(rig_given, Mapping):
        raise _refuse(where, "rig is not a table", 'write rig = { key-switch = "ON" }')
    rig = rig_from(h, rig_given, where=f"{where}.rig")
    tool = given.get("tool")
    if tool not in TOOLS:
        raise _refuse(where, f"no tool is called {tool!r}", f"use {', '.join(TOOLS)}")
    if tool == "eye":
        return Test(rig=rig, tool="eye", device=_seen_device(h, given, where, rig))
    if given.get("device"):
        raise _refuse(where, f"a {tool} has no device", "leave it out")
    if tool == "ohmmeter" and rig.battery_lead == "on":
        raise _refuse(
            where,
            "an ohmmeter cannot be used with the battery connected",
            'lift the earthed lead and say battery-lead = "off"',
        )
    probe = _terminal(h, given.get("probe"), "probe", where)
    clip = _terminal(h, given.get("clip") or h.first_body, "clip", where)
    net = compile_network(h, rig)
    if net.node_of[probe] == net.node_of[clip]:
        raise _refuse(
            where, f"probe {probe} and clip {clip} are one point", "move one of them"
        )
    return Test(rig=rig, tool=cast("Tool", tool), probe=probe, clip=clip)


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
    if given.get("probe") or given.get("clip"):
        raise _refuse(where, "the eye has no probe or clip", "name the device alone")
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
    if test.tool == "ohmmeter" and value < 0:
        raise _refuse(where, "ohms are never negative", "give ohms, or open")
    most = 10 * h.volts
    if test.tool == "voltmeter" and abs(value) > most:
        what = f"{value:g} V cannot be read on a {h.volts:g} V loom"
        raise _refuse(where, what, "check the meter's range and the decimal point")
    return f"{value:g}", value


def _word(reads: object, words: tuple[str, ...], where: str) -> str:
    if reads not in words:
        raise _refuse(
            where, f"{reads!r} is not a reading here", f"use {', '.join(words)}"
        )
    return str(reads)
