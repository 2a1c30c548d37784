"""Which row of the table of rates a segment belongs to, and where it sits."""

from harness.kinds import Lamp, Motor
from harness.model import Harness
from harness.segments import Segment

_DEVICES: dict[type, str] = {Lamp: "lamp", Motor: "motor"}


def kind_of_segment(h: Harness, segment: Segment) -> str:
    """Return the kind of a segment, as `rates.TABLE` names it."""
    if segment.kind == "wire":
        return h.wires[segment.owner].kind
    if segment.kind == "device":
        device = h.devices[segment.owner]
        return _DEVICES.get(type(device.spec), device.kind)
    if segment.kind == "relay":
        coil = (f"{segment.owner}.86", f"{segment.owner}.85")
        return "relay-coil" if segment.ends == coil else "relay-contact"
    return segment.kind


def places_of_segment(h: Harness, segment: Segment) -> tuple[str, ...]:
    """Return the places that a segment sits in or runs between, sorted.

    A wire's own place, where the drawing gives one; else those of the devices at its
    ends. Empty where the drawing does not say.
    """
    if segment.kind == "wire":
        own = h.wires[segment.owner].place
        found = {own} if own else {_place_at(h, end) for end in segment.ends}
    else:
        found = {h.devices[segment.owner].place}
    return tuple(sorted(place for place in found if place))


def place_of_segment(h: Harness, segment: Segment) -> str | None:
    """Return the one place that a segment sits in, or None where there is no one."""
    places = places_of_segment(h, segment)
    return places[0] if len(places) == 1 else None


def _place_at(h: Harness, terminal: str) -> str | None:
    return h.devices[terminal.partition(".")[0]].place
