"""What to do to make a test, step by step, and the cautions that belong to it.

Usual workshop practice (check values Z4-Z7, Z10-Z13); local rules come first.
"""

from harness.findings import Test, is_fuse
from harness.kinds import Lamp, Switch
from harness.model import Harness
from harness.rig import Rig
from harness.words import (
    device_words,
    jumper_words,
    probe_words,
    seen_words,
    switch_steps,
    terminal_words,
    wire_name,
    wires_words,
)


def test_steps(h: Harness, test: Test) -> list[str]:
    """Return what to do, step by step."""
    steps = [*_taking_apart(h, test.rig), *_setting(h, test.rig), *_reading(h, test)]
    if back := _putting_back(h, test.rig):
        steps.append(back)
    return steps


def _earthed_pole(h: Harness) -> str:
    return "negative" if h.earth == "negative" else "positive"


def _is_opened(h: Harness, rig: Rig) -> bool:
    """Return whether more of the loom is disturbed than a fuse."""
    taken = [what for what in rig.removed if not is_fuse(h, what)]
    return bool(rig.unplugged or rig.jumpers or taken)


def _taking_apart(h: Harness, rig: Rig) -> list[str]:
    """Return how to unplug, take out and bridge: never on a live loom."""
    steps = []
    if rig.battery_lead == "off" or _is_opened(h, rig):
        post = terminal_words(h, h.earthed_pin)
        steps.append(f"Key off, then lift the battery lead off the {post}.")
    elif rig.removed:
        steps.append("Key off and everything at rest.")
    for what in rig.unplugged:
        if what in h.devices:
            steps.append(f"Pull the {device_words(h, what)} apart{_at(h, what)}.")
        else:
            steps.append(
                f"Pull {wires_words(h, what)} off the {terminal_words(h, what)}, and "
                "keep what hangs free clear of metal."
            )
    steps += [f"Take out the {device_words(h, w)}{_at(h, w)}." for w in rig.removed]
    steps += [
        f"Fit a jumper lead with its own fuse {jumper_words(h, pair)}."
        for pair in rig.jumpers
    ]
    if _is_opened(h, rig) and rig.battery_lead == "on":
        steps.append("Put the battery lead back on.")
    return steps


def _at(h: Harness, device: str) -> str:
    place = h.devices[device].place
    return f" ({h.places[place].name})" if place else ""


def _setting(h: Harness, rig: Rig) -> list[str]:
    moved = switch_steps(h, rig)
    switches = [d for d in h.devices.values() if isinstance(d.spec, Switch)]
    steps = [f"Set: {', '.join(moved)}." if moved else "Set everything to rest."]
    if moved and len(rig.moved) < len(switches):
        steps.append("Leave every other switch at rest.")
    if rig.engine_running:
        steps.append("Start the engine and let it run.")
    return steps


_LEADS = {
    "test-lamp": ("test lamp's clip", "probe"),
    "voltmeter": ("voltmeter's common lead", "measuring lead"),
    "ohmmeter": ("ohmmeter's common lead", "measuring lead"),
}


def _reading(h: Harness, test: Test) -> list[str]:
    if test.tool == "eye":
        what = seen_words(h, test.device)
        if is_fuse(h, test.device):
            return [f"Take out the {what} and look through it; put it back."]
        return [f"Look at (or listen to) the {what}."]
    if test.tool == "ammeter":
        return _clamping(h, test.wire)
    clip, probe = _LEADS[test.tool]
    if in_the_fuses_place(h, test):
        one, other = probe_words(h, test.clip), probe_words(h, test.probe)
        step = f"Put the test lamp in the fuse's place: clip on the {one}, "
        return [f"{step}probe on the {other}."]
    return [
        f"Clip the {clip} to the {probe_words(h, test.clip)}.",
        f"Hold the {probe} on the {probe_words(h, test.probe)}.",
    ]


def in_the_fuses_place(h: Harness, test: Test) -> bool:
    """Return whether a test lamp takes the place of a fuse that is out."""
    ends = {terminal.partition(".")[0] for terminal in (test.probe, test.clip)}
    return (
        test.tool == "test-lamp"
        and len(ends) == 1
        and ends <= set(test.rig.removed)
        and is_fuse(h, next(iter(ends)))
    )


def _clamping(h: Harness, wire_id: str) -> list[str]:
    wire = h.wires[wire_id]
    near, far = probe_words(h, wire.start), terminal_words(h, wire.end)
    return [
        "Set the clamp meter to direct current, and to nothing with its jaws empty.",
        f"Close it round {wire_name(wire)} alone, near the {near}.",
        f"Turn it so that its arrow points towards the {far}.",
    ]


def _putting_back(h: Harness, rig: Rig) -> str:
    """Return what to put back afterwards; empty where nothing was disturbed."""
    said = ["take the jumper lead off"] if rig.jumpers else []
    whole = [what for what in (*rig.unplugged, *rig.removed) if what in h.devices]
    back = [f"the {device_words(h, what)}" for what in whole]
    pins = [what for what in rig.unplugged if what not in h.devices]
    back += [f"{wires_words(h, pin)} on the {terminal_words(h, pin)}" for pin in pins]
    if back:
        said.append(f"put back {' and '.join(back)}")
    if not said:
        return ""
    if _is_opened(h, rig):
        if rig.battery_connected:
            said.insert(0, "lift the battery lead again")
        said.append("and the battery lead last of all")
    return f"Afterwards, key off: {', '.join(said)}."


def cautions(h: Harness, test: Test) -> list[str]:
    """Return the cautions that belong to a test, once each, the gravest first."""
    rig = test.rig
    found: list[str] = []
    if rig.engine_running:
        found.append(
            "Run the engine outdoors or with the exhaust led away. Keep hands off "
            "ignition leads (high voltage), and clear of chain, wheel and hot parts. "
            "Never take the battery off with the engine running."
        )
    if rig.battery_lead == "off" or _is_opened(h, rig):
        found.append(
            "Key off, then lift the earthed battery lead first: on this bike the "
            f"{_earthed_pole(h)} one. Stow it so that it cannot spring back. No flame "
            "or spark near the battery."
        )
    found += _about_fuses(h, test)
    if any(isinstance(h.devices[what].spec, Lamp) for what in rig.removed):
        found.append("A lamp that was just lit burns: let it cool before touching it.")
    if test.tool == "test-lamp":
        found.append(
            "The lamp draws current: not on electronic modules. Touch bare terminals "
            "rather than piercing insulation."
        )
    elif test.tool == "voltmeter" and not found:
        found.append("Keep the probe off neighbouring metal: a slip is a short.")
    return found


def _about_fuses(h: Harness, test: Test) -> list[str]:
    found = []
    if test.rig.jumpers:
        found.append(
            "The jumper lead carries its own fuse, no larger than the one that guards "
            "the circuit. Never bridge a consumer, or both posts of the battery."
        )
    seen = is_fuse(h, test.device) or any(is_fuse(h, what) for what in test.rig.removed)
    if seen or test.rig.jumpers:
        found.append(
            "Never fit a larger fuse, foil or wire: it guards the loom. Find why it "
            "blew first."
        )
    return found
