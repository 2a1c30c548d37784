"""Rules over the parts of a harness: how they must fit together.

Each rule notes what is wrong at the table concerned; a harness with no problem noted
is good.
"""

from collections import deque
from collections.abc import Iterator

from harness.kinds import Battery, Body, Charger, Joint, Plug, Relay, Switch, fixed_pins
from harness.model import Wire
from harness.parts import Parts
from harness.reading import Table
from harness.rig import RESERVED
from harness.suggestions import did_you_mean, listed, quoted


def check_parts(parts: Parts) -> None:
    """Apply every rule."""
    check_places(parts)
    check_terminals(parts)
    check_switch_names(parts)
    check_battery_there(parts)
    check_no_short(parts)


def check_places(parts: Parts) -> None:
    """Refuse a place that is used but not declared."""
    places = parts.draft.places
    for table in (*parts.draft.devices.values(), *parts.draft.wires.values()):
        place = table.data.get("place")
        if isinstance(place, str) and place not in places:
            mend = did_you_mean(place, places, kind="places")
            table.refuse(f"there is no place {quoted(place)}", mend, "place")


def check_terminals(parts: Parts) -> None:
    """Refuse a wire to a device or a pin that is not there."""
    for wire_id, wire in parts.wires.items():
        table = parts.draft.wires[wire_id]
        for key, terminal in (("from", wire.start), ("to", wire.end)):
            _check_terminal(parts, table, key, terminal)


def _check_terminal(parts: Parts, table: Table, key: str, terminal: str) -> None:
    device, _, pin = terminal.partition(".")
    if device not in parts.draft.devices:
        if device in parts.draft.removed:
            mend = "take the wire away as well, or keep the device"
            what = f"it goes to {quoted(device)}, which was taken away"
        else:
            mend = did_you_mean(device, parts.draft.devices, kind="devices")
            what = f"there is no device {quoted(device)}"
        table.refuse(what, mend, key)
        return
    spec = parts.specs.get(device)
    if spec is None:
        return
    pins = fixed_pins(spec)
    if pins is not None and pin not in pins:
        pins += ("87a",) if isinstance(spec, Relay) else ()
        mend = did_you_mean(pin, pins, kind=f"pins of {device}")
        table.refuse(f"{device} has no pin {quoted(pin)}", mend, key)


def check_switch_names(parts: Parts) -> None:
    """Refuse a switch whose id is a word that rigs keep for themselves."""
    for device_id, spec in parts.specs.items():
        if isinstance(spec, Switch) and device_id in RESERVED:
            what = f"a switch cannot be called {device_id}, a word that rigs use"
            mend = f"choose another id than {listed(RESERVED)}"
            parts.draft.devices[device_id].refuse(what, mend)


def check_battery_there(parts: Parts) -> None:
    """Refuse a harness without a battery."""
    kinds = [table.data.get("kind") for table in parts.draft.devices.values()]
    if "battery" not in kinds:
        mend = 'add [devices.battery] with kind = "battery"'
        parts.draft.top.refuse("there is no battery", mend, "devices")


def check_no_short(parts: Parts) -> None:
    """Refuse a battery or charger whose poles meet through wires alone.

    Joints, bodies and plugs are no more than wire here: nothing on the way could ever
    limit the current.
    """
    ways = _metal(parts)
    for device_id, spec in parts.specs.items():
        if not isinstance(spec, Battery | Charger):
            continue
        route = _route(ways, f"{device_id}.pos", f"{device_id}.neg")
        if not route:
            continue
        named = listed([wire.id for wire in route])
        what = f"wires alone join both poles of {device_id}: {named}"
        mend = "a fuse, switch or consumer belongs in between: check the ends"
        parts.draft.wires[route[0].id].refuse(what, mend)


Ways = dict[str, list[tuple[str, Wire | None]]]


def _metal(parts: Parts) -> Ways:
    """Return what each terminal is joined to by metal, and by which wire."""
    ways: Ways = {}

    def join(one: str, other: str, wire: Wire | None) -> None:
        ways.setdefault(one, []).append((other, wire))
        ways.setdefault(other, []).append((one, wire))

    for wire in parts.wires.values():
        join(wire.start, wire.end, wire)
        for terminal in (wire.start, wire.end):
            device = terminal.partition(".")[0]
            if isinstance(parts.specs.get(device), Body | Joint):
                join(terminal, device, None)
    for device, spec in parts.specs.items():
        if isinstance(spec, Plug):
            for cavity in spec.cavities:
                join(f"{device}.{cavity}a", f"{device}.{cavity}b", None)
    return ways


def _route(ways: Ways, start: str, end: str) -> list[Wire]:
    """Return the wires of a shortest way through metal; none if there is no way."""
    came: dict[str, tuple[str, Wire | None]] = {}
    queue = deque([start])
    while queue:
        here = queue.popleft()
        for there, wire in ways.get(here, ()):
            if there != start and there not in came:
                came[there] = (here, wire)
                queue.append(there)
    return list(reversed(list(_back(came, end))))


def _back(came: dict[str, tuple[str, Wire | None]], end: str) -> Iterator[Wire]:
    here = end
    while here in came:
        here, wire = came[here]
        if wire is not None:
            yield wire
