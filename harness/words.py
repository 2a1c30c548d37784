"""Plain words for terminals, segments, faults, rigs and readings."""

from collections.abc import Mapping, Sequence

import numpy as np

from harness.colours import describe
from harness.findings import UNITS, Finding, Test
from harness.kinds import Body, Joint, Switch
from harness.model import Harness, Wire
from harness.rig import Rig
from harness.segments import Fault, Segment, segments_of


def device_words(h: Harness, device_id: str) -> str:
    """Return a device's name in mid-sentence: ``tail plug``, ``frame``."""
    title = h.devices[device_id].title
    follows = title[1:2]
    return title if follows.isupper() or not follows else title[0].lower() + title[1:]


def terminal_words(h: Harness, terminal: str) -> str:
    """Return a terminal in words: ``horn, pin 1``."""
    device_id, _, pin = terminal.partition(".")
    device = h.devices[device_id]
    name = device_words(h, device_id)
    if isinstance(device.spec, Body):
        return f"{name} (bare metal, {pin})"
    if isinstance(device.spec, Joint):
        return name if pin == "*" else f"{name}, pin {pin}"
    if device.kind == "battery":
        pole = {"pos": "positive", "neg": "negative"}[pin]
        side = "earthed" if terminal == h.earthed_pin else "feed"
        return f"{name}, {pole} post ({side} side)"
    return f"{name}, pin {pin}"


def colours_at(h: Harness, terminal: str) -> tuple[str, ...]:
    """Return the letters of the wires that meet a terminal, sorted."""
    found = {
        w.colour.upper()
        for w in h.wires.values()
        if w.colour and terminal in {w.start, w.end}
    }
    return tuple(sorted(found))


def probe_words(h: Harness, terminal: str) -> str:
    """Return where to hold a probe: pin, wire colours, place."""
    words = terminal_words(h, terminal)
    if colours := colours_at(h, terminal):
        spoken = " or ".join(f"{describe(c)} ({c})" for c in colours)
        words += f", at the {spoken} wire"
    place = h.devices[terminal.partition(".")[0]].place
    return f"{words} — {h.places[place].name}" if place else words


def wire_name(wire: Wire) -> str:
    """Return a wire's number and colour: ``wire 7 (green, GN)``."""
    what = {"strap": "strap", "mount": "mounting", "cable": "cable"}.get(wire.kind)
    head = f"{what or 'wire'} {wire.id}"
    if wire.colour:
        head += f" ({describe(wire.colour)}, {wire.colour.upper()})"
    return head


def wire_words(h: Harness, wire: Wire) -> str:
    """Return a wire in words, with colour and both ends."""
    ends = " to ".join(terminal_words(h, end) for end in (wire.start, wire.end))
    return f"{wire_name(wire)} from {ends}"


def segment_words(h: Harness, name: str) -> str:
    """Return a segment in words."""
    segment = segments_of(h)[name]
    if segment.kind == "wire":
        return wire_words(h, h.wires[segment.owner])
    owner = device_words(h, segment.owner)
    return _DEVICE_SEGMENTS.get(segment.kind, _plainly)(segment, owner)


def _plainly(segment: Segment, owner: str) -> str:
    part = segment.name.partition(":")[2].partition(".")[2]
    return f"{owner}, {part}" if part else owner


def _contact(segment: Segment, owner: str) -> str:
    position, _, pins = segment.name.partition(".")[2].partition(".")
    return f"{owner}, contact {pins} in position {position}"


def _relay(segment: Segment, owner: str) -> str:
    part = segment.name.rpartition(".")[2].replace("-", " ")
    return f"{owner}, {part}"


def _cavity(segment: Segment, owner: str) -> str:
    return f"{owner}, cavity {segment.name.rpartition('.')[2]}"


def _joint_pin(segment: Segment, owner: str) -> str:
    return f"{owner}, its joint at pin {segment.name.rpartition('.')[2]}"


_DEVICE_SEGMENTS = {
    "switch": _contact,
    "relay": _relay,
    "plug": _cavity,
    "joint": _joint_pin,
}

_MODES = {
    "open": "is open",
    "resistive": "makes bad contact",
    "earthed": "is chafed through to earth",
    "blown": "has blown",
    "dead": "is dead inside",
    "weak": "is weak",
    "stuck": "is stuck closed",
    "shorted": "is shorted inside",
    "crossed": "is crossed with its neighbour",
}


def fault_words(h: Harness, fault: Fault | None) -> str:
    """Return a fault as a sentence without its full stop."""
    if fault is None:
        return "nothing is wrong"
    name = segment_words(h, fault.segment)
    if fault.moved:
        return f"{name} opens when the loom is moved"
    if fault.mode == "crossed" and fault.other:
        return f"{name} {_crossed(h, fault.other)}"
    words = f"{name} {_MODES[fault.mode]}"
    if fault.mode == "resistive" and fault.ohms:
        words += f" (about {fault.ohms:.2g} ohm)"
    return words


def _crossed(h: Harness, other: str) -> str:
    """Return what a wire or cavity is crossed with, as the end of a sentence."""
    segment = segments_of(h)[other]
    if segment.kind == "wire":
        return f"is chafed through to {wire_name(h.wires[segment.owner])}"
    cavity = other.rpartition(".")[2]
    return f"is swapped over with cavity {cavity} of the same plug"


def seen_words(h: Harness, device: str) -> str:
    """Return what the eye looks at: ``horn``, or ``rear lamp, stop filament``."""
    owner, _, filament = device.partition(".")
    name = device_words(h, owner)
    return f"{name}, {filament} filament" if filament else name


def rig_words(h: Harness, rig: Rig) -> str:
    """Return the positions that differ from rest, as one phrase."""
    return ", ".join(rig_steps(h, rig)) or "everything at rest"


def rig_steps(h: Harness, rig: Rig) -> list[str]:
    """Return the positions that differ from rest, one phrase each."""
    steps = switch_steps(h, rig)
    if rig.engine == "running":
        steps.append("engine running")
    if rig.battery_lead == "off":
        post = terminal_words(h, h.earthed_pin)
        steps.append(f"battery lead lifted off the {post}")
    steps += [unplugged_words(h, what) for what in rig.unplugged]
    steps += [f"{device_words(h, what)} taken out" for what in rig.removed]
    steps += [f"a fused jumper {jumper_words(h, pair)}" for pair in rig.jumpers]
    return steps


def switch_steps(h: Harness, rig: Rig) -> list[str]:
    """Return the switches that differ from rest, one phrase each."""
    steps = []
    for switch, position in rig.moved:
        spec = h.devices[switch].spec
        held = isinstance(spec, Switch) and spec.momentary
        verb = f"held at {position}" if held else f"to {position}"
        steps.append(f"{device_words(h, switch)} {verb}")
    return steps


def unplugged_words(h: Harness, what: str) -> str:
    """Return what is apart: ``tail plug pulled apart``, or wires off a pin."""
    if what in h.devices:
        return f"{device_words(h, what)} pulled apart"
    return f"{wires_words(h, what)} pulled off {terminal_words(h, what)}"


def wires_words(h: Harness, terminal: str) -> str:
    """Return the wires on a pin: by name where there is one, else all of them."""
    on_pin = [w for w in h.wires.values() if terminal in {w.start, w.end}]
    return wire_name(on_pin[0]) if len(on_pin) == 1 else "all wires"


def jumper_words(h: Harness, pair: tuple[str, str]) -> str:
    """Return where a jumper lead goes: ``from horn, pin 2 to frame (...)``."""
    one, two = (terminal_words(h, end) for end in pair)
    return f"from {one} to {two}"


_TOOL_NAMES = {
    "test-lamp": "test lamp",
    "voltmeter": "voltmeter",
    "ohmmeter": "ohmmeter",
}


def test_words(h: Harness, test: Test) -> str:
    """Return a test in one phrase, for proofs and reports."""
    where = rig_words(h, test.rig)
    if test.tool == "eye":
        return f"{seen_words(h, test.device)} by eye, {where}"
    if test.tool == "ammeter":
        wire = h.wires[test.wire]
        return f"clamp meter round {wire_words(h, wire)}, {where}"
    return (
        f"{_TOOL_NAMES[test.tool]} from {terminal_words(h, test.clip)} to "
        f"{terminal_words(h, test.probe)}, {where}"
    )


def finding_words(h: Harness, finding: Finding) -> str:
    """Return a finding's test in one phrase, and whether the loom was being moved."""
    words = test_words(h, finding.test)
    return f"{words}, while the loom was moved" if finding.moving else words


def reading_words(finding: Finding) -> str:
    """Return what was read, a number with its unit."""
    if np.isfinite(finding.value):
        return f"{finding.reads} {UNITS[finding.test.tool]}"
    return finding.reads


def as_json_test(test: Test) -> Mapping[str, object]:
    """Return a test in the form of a finding, without its reading."""
    out: dict[str, object] = {"rig": test.rig.as_mapping(), "tool": test.tool}
    if test.tool == "eye":
        out["device"] = test.device
    elif test.tool == "ammeter":
        out["wire"] = test.wire
    else:
        out |= {"probe": test.probe, "clip": test.clip}
    return out


def set_words(h: Harness, faults: Sequence[Fault]) -> str:
    """Return several faults as one sentence without its full stop."""
    return "; and ".join(fault_words(h, f) for f in faults) or "nothing is wrong"
