"""Rules over the parts of a harness: how they must fit together.

Each rule notes what is wrong at the table concerned; a harness with no problem noted
is good.
"""

from harness.kinds import Battery, Charger, Relay, Switch, fixed_pins
from harness.parts import Parts
from harness.reading import Table
from harness.rig import RESERVED
from harness.shorts import metal_route
from harness.suggestions import listed, pins_are, quoted


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
            mend = table.did_you_mean(place, places, kind="places")
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
            mend = table.did_you_mean(device, parts.draft.devices, kind="devices")
            what = f"there is no device {quoted(device)}"
        table.refuse(what, mend, key)
        return
    spec = parts.specs.get(device)
    if spec is None:
        return
    pins = fixed_pins(spec)
    if pins is not None and pin not in pins:
        pins += ("87a",) if isinstance(spec, Relay) else ()
        mend = pins_are(device, pin, pins)
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
    """Refuse a battery or charger whose poles meet through metal alone."""
    for device_id, spec in parts.specs.items():
        if not isinstance(spec, Battery | Charger):
            continue
        route = metal_route(
            parts.wires.values(),
            parts.specs,
            start=f"{device_id}.pos",
            end=f"{device_id}.neg",
        )
        if route is not None:
            what = f"wires alone join both poles of {device_id}: {listed(route)}"
            mend = "a fuse, switch or consumer belongs in between: check the ends"
            parts.draft.wires[route[0]].refuse(what, mend)
