"""Faults put into a netlist, by the project's own page of what each fault is.

A fault is what `harness.Fault` says (a segment, a mode, ohms, the neighbour); which
segments and modes there are is the engine's, what they do to the circuit is written
here again.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

import harness
from harness.kinds import Battery, Body, Charger, Diode, Relay, Switch
from harness.model import Harness
from tests.harness.spice import Element, Rig, names_in, position, source

SHORT_OHM = 0.05
WEAK_EMF_RATIO = 0.8


def with_faults(
    h: Harness,
    rig: Rig,
    sound: Sequence[Element],
    faults: Sequence[harness.Fault],
) -> list[Element]:
    """Return the netlist with faults in; no two of them touch one segment.

    Parameters
    ----------
    h : Harness
    rig : mapping
    sound : sequence of Element
        Of the sound bike in that rig.
    faults : sequence of Fault
    """
    elements = list(sound)
    # At rest an intermittent contact is a good one.
    for fault in (f for f in faults if not f.moved):
        elements = list(_with(h, rig, elements, fault))
    return elements


def _with(
    h: Harness, rig: Rig, elements: Sequence[Element], fault: harness.Fault
) -> Iterator[Element]:
    match fault.mode:
        case "open" | "blown" | "dead":
            yield from (e for e in elements if e.segment != fault.segment)
        case "resistive" | "weak":
            for e in elements:
                yield _worn(h, e, fault) if e.segment == fault.segment else e
        case "crossed" if fault.segment.startswith("plug:"):
            yield from _swapped(elements, fault)
        case "crossed" | "earthed":
            yield from _chafed(h, elements, fault)
        case "stuck":
            yield from elements
            yield from _stuck(h, rig, elements, fault)
        case "shorted":
            yield from elements
            yield from _shorted(h, rig, fault)


def _worn(h: Harness, element: Element, fault: harness.Fault) -> Element:
    if fault.mode == "resistive":
        return replace(element, ohms=element.ohms + fault.ohms)
    return _weak(h, element, fault)


def _chafed(
    h: Harness, elements: Sequence[Element], fault: harness.Fault
) -> Iterator[Element]:
    """Yield a wire in two halves, its middle on metal or on a neighbour's middle."""
    wire = fault.segment
    onto = nearest_body(h, wire.partition(":")[2])
    if fault.other:
        elements, onto = (
            list(_halved(elements, fault.other)),
            f"middle of {fault.other}",
        )
    yield from _halved(elements, wire)
    yield Element("chafed through", f"middle of {wire}", onto, ohms=SHORT_OHM)


def _weak(h: Harness, element: Element, fault: harness.Fault) -> Element:
    spec = h.devices[element.a.partition(".")[0]].spec
    assert isinstance(spec, Battery)
    ratio = 1.0 if fault.ohms else WEAK_EMF_RATIO
    emf_v, ohms = spec.emf_v * ratio, spec.ohms + fault.ohms
    return source(element.segment, element.a, element.b, emf_v, ohms)


def nearest_body(h: Harness, wire_id: str) -> str:
    """Return a terminal of the metal in the wire's place, or at one of its ends.

    Where there is none, the first body of the file.
    """
    wire = h.wires[wire_id]
    ends = [h.devices[t.partition(".")[0]].place for t in (wire.start, wire.end)]
    for place in (wire.place, *ends):
        for device in h.devices.values():
            if place and isinstance(device.spec, Body) and device.place == place:
                return f"{device.id}.{device.pins[0]}"
    assert h.first_body is not None
    return h.first_body


def _halved(elements: Sequence[Element], wire: str) -> Iterator[Element]:
    middle = f"middle of {wire}"
    for e in elements:
        if e.segment == wire:
            yield Element(f"one half of {wire}", e.a, middle, ohms=e.ohms / 2)
            yield Element(f"other half of {wire}", middle, e.b, ohms=e.ohms / 2)
        else:
            yield e


def _swapped(elements: Sequence[Element], fault: harness.Fault) -> Iterator[Element]:
    """Yield two contacts with their far faces exchanged; none where it is unplugged."""
    faces = {e.segment: e.b for e in elements}
    pair = {fault.segment: fault.other, fault.other: fault.segment}
    for e in elements:
        there = e.segment in pair and pair[e.segment] in faces
        yield replace(e, b=faces[pair[e.segment]]) if there else e


def _stuck(
    h: Harness, rig: Rig, elements: Sequence[Element], fault: harness.Fault
) -> Iterator[Element]:
    """Yield the contact that stays shut where nothing else of its device shuts it."""
    kind, _, rest = fault.segment.partition(":")
    d, *part = rest.split(".")
    spec = h.devices[d].spec
    if d in names_in(rig, "removed"):
        return
    if isinstance(spec, Relay):
        assert kind == "relay"
        pin = {"contact": "87", "break-contact": "87a"}[part[0]]
        if not any(e.segment == fault.segment for e in elements):
            yield Element("stuck", f"{d}.30", f"{d}.{pin}", ohms=spec.ohms)
        return
    assert isinstance(spec, Switch)
    first, pin = part[1].split("-")
    at = position(h, rig, d)
    groups = dict(spec.joins).get(at, ())
    if not any(g[0] == first and pin in g[1:] for g in groups):
        yield Element("stuck", f"{d}.{first}", f"{d}.{pin}", ohms=spec.ohms)


def _shorted(h: Harness, rig: Rig, fault: harness.Fault) -> Iterator[Element]:
    """Yield the short across a device's ends, there whether it works or not."""
    segment = harness.segments_of(h)[fault.segment]
    d = segment.owner
    if d in names_in(rig, "removed"):
        return
    spec = h.devices[d].spec
    one, two = segment.ends
    if isinstance(spec, Charger):
        one, two = f"{d}.pos", f"{d}.neg"
    elif isinstance(spec, Diode):
        one, two = f"{d}.a", f"{d}.k"
    yield Element("shorted", one, two, ohms=SHORT_OHM)
