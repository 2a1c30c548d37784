"""Plain words for terminals, segments, faults, rigs and readings."""

from collections.abc import Mapping

from harness.colours import describe
from harness.faults import Fault
from harness.findings import Test, is_fuse
from harness.kinds import Body, Joint, Switch
from harness.model import Harness, Wire
from harness.rig import Rig
from harness.segments import Segment, segments_of


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


def wire_words(h: Harness, wire: Wire) -> str:
    """Return a wire in words, with colour and both ends."""
    what = {"strap": "strap", "mount": "mounting", "cable": "cable"}.get(wire.kind)
    head = f"{what or 'wire'} {wire.id}"
    if wire.colour:
        head += f" ({describe(wire.colour)}, {wire.colour.upper()})"
    ends = " to ".join(terminal_words(h, end) for end in (wire.start, wire.end))
    return f"{head} from {ends}"


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
}


def fault_words(h: Harness, fault: Fault | None) -> str:
    """Return a fault as a sentence without its full stop."""
    if fault is None:
        return "nothing is wrong"
    words = f"{segment_words(h, fault.segment)} {_MODES[fault.mode]}"
    if fault.mode == "resistive" and fault.ohms:
        words += f" (about {fault.ohms:.2g} ohm)"
    return words


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
    steps = []
    for switch, position in rig.moved:
        spec = h.devices[switch].spec
        held = isinstance(spec, Switch) and spec.momentary
        verb = f"held at {position}" if held else f"to {position}"
        steps.append(f"{device_words(h, switch)} {verb}")
    if rig.engine == "running":
        steps.append("engine running")
    if rig.battery_lead == "off":
        post = terminal_words(h, h.earthed_pin)
        steps.append(f"battery lead lifted off the {post}")
    steps += [f"{what} unplugged" for what in rig.unplugged]
    steps += [f"{device_words(h, what)} taken out" for what in rig.removed]
    steps += [f"a fused jumper from {a} to {b}" for a, b in rig.jumpers]
    return steps


_TOOL_NAMES = {
    "test-lamp": "test lamp",
    "voltmeter": "voltmeter",
    "ohmmeter": "ohmmeter",
}


def test_steps(h: Harness, test: Test) -> list[str]:
    """Return what to do, step by step."""
    rest = [s for s in _switch_names(h) if s not in dict(test.rig.moved)]
    moved = rig_steps(h, test.rig)
    steps = [f"Set: {', '.join(moved)}." if moved else "Set everything to rest."]
    if moved and rest:
        steps.append("Leave every other switch at rest.")
    if test.tool == "eye":
        what = seen_words(h, test.device)
        if is_fuse(h, test.device):
            steps.append(f"Take out the {what} and look through it; put it back.")
        else:
            steps.append(f"Look at (or listen to) the {what}.")
        return steps
    steps.append(
        f"Clip the {_TOOL_NAMES[test.tool]}'s {_lead(test, 'clip')} to the "
        f"{probe_words(h, test.clip)}."
    )
    steps.append(
        f"Hold the {_lead(test, 'probe')} on the {probe_words(h, test.probe)}."
    )
    return steps


def _lead(test: Test, end: str) -> str:
    if test.tool == "test-lamp":
        return "clip" if end == "clip" else "probe"
    return "common lead" if end == "clip" else "measuring lead"


def _switch_names(h: Harness) -> list[str]:
    return [d.id for d in h.devices.values() if isinstance(d.spec, Switch)]


def test_words(h: Harness, test: Test) -> str:
    """Return a test in one phrase, for proofs and reports."""
    where = rig_words(h, test.rig)
    if test.tool == "eye":
        return f"{seen_words(h, test.device)} by eye, {where}"
    return (
        f"{_TOOL_NAMES[test.tool]} from {terminal_words(h, test.clip)} to "
        f"{terminal_words(h, test.probe)}, {where}"
    )


def cautions(h: Harness, test: Test) -> list[str]:
    """Return the cautions that belong to a test, once each.

    Usual workshop practice (check values Z4-Z7, Z10-Z13); local rules come first.
    """
    found: list[str] = []
    if test.rig.battery_lead == "off":
        pole = "negative" if h.earth == "negative" else "positive"
        found.append(
            f"Key off, then lift the earthed battery lead first: on this bike the "
            f"{pole} one. Stow it so that it cannot spring back. No flame or spark "
            "near the battery."
        )
    if test.rig.engine == "running":
        found.append(
            "Run the engine outdoors or with the exhaust led away. Keep hands off "
            "ignition leads (high voltage), and clear of chain, wheel and hot parts. "
            "Never take the battery off with the engine running."
        )
    if is_fuse(h, test.device):
        found.append(
            "Never fit a larger fuse, foil or wire: it guards the loom. Find why it "
            "blew first."
        )
    if test.tool == "test-lamp":
        found.append(
            "The lamp draws current: not on electronic modules. Touch bare terminals "
            "rather than piercing insulation."
        )
    elif test.tool == "voltmeter" and not found:
        found.append("Keep the probe off neighbouring metal: a slip is a short.")
    return found


def as_json_test(test: Test) -> Mapping[str, object]:
    """Return a test in the form of a finding, without its reading."""
    out: dict[str, object] = {"rig": test.rig.as_mapping(), "tool": test.tool}
    if test.tool == "eye":
        out["device"] = test.device
    else:
        out |= {"probe": test.probe, "clip": test.clip}
    return out
