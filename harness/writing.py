"""A harness back to a text: TOML that loads to the very same harness.

Every default is written out, so that a later version with other defaults reads the
same loom. Comments, order and the base of a variant are not part of a harness and do
not come back.
"""

import json
from collections.abc import Iterable, Iterator

from harness.kinds import (
    Battery,
    Box,
    Charger,
    Diode,
    Filament,
    Fuse,
    Joint,
    Lamp,
    Load,
    Motor,
    Plug,
    Relay,
    Spec,
    Switch,
)
from harness.model import Device, Harness, Place, Wire

Pairs = Iterator[tuple[str, str]]


def dumps(h: Harness) -> str:
    """Return a harness as the text of a harness file.

    Parameters
    ----------
    h : Harness

    Returns
    -------
    str
        TOML; ``loads(dumps(h)) == h``.
    """
    blocks = [_lines("", _head(h))]
    blocks += [_lines(f"[places.{p.id}]", _place(p)) for p in h.places.values()]
    # The first body of a file is where a clip goes unless told, so it is written first.
    first = (h.first_body or "").partition(".")[0]
    in_order = sorted(h.devices.values(), key=lambda d: (d.id != first, d.id))
    blocks += [_lines(f"[devices.{d.id}]", _device(d)) for d in in_order]
    blocks += [_lines("[[wires]]", _wire(w)) for w in h.wires.values()]
    return "\n".join(blocks)


def _lines(header: str, pairs: Pairs) -> str:
    lines = [header] if header else []
    lines += [f"{key} = {value}" for key, value in pairs]
    return "\n".join(lines) + "\n"


def _text(value: str) -> str:
    # What JSON escapes in a string, TOML reads alike.
    return json.dumps(value, ensure_ascii=False)


def _texts(values: Iterable[str]) -> str:
    return "[" + ", ".join(_text(value) for value in values) + "]"


def _inline(pairs: Pairs) -> str:
    return "{ " + ", ".join(f"{key} = {value}" for key, value in pairs) + " }"


def _number(value: float) -> str:
    short = f"{value:g}"
    return short if float(short) == value and "e" not in short else repr(value)


def _words(**texts: str | None) -> Pairs:
    for key, value in texts.items():
        if value is not None:
            yield key, _text(value)


def _numbers(**numbers: float | None) -> Pairs:
    for key, value in numbers.items():
        if value is not None:
            yield key, _number(value)


def _head(h: Harness) -> Pairs:
    yield "schema", "1"
    yield from _words(title=h.title)
    yield from _numbers(volts=h.volts)
    yield from _words(earth=h.earth)


def _place(place: Place) -> Pairs:
    yield from _words(name=place.name)
    yield from _numbers(access_minutes=place.access_minutes)


def _device(device: Device) -> Pairs:
    yield from _words(kind=device.kind, name=device.name)
    yield from _spec(device.spec)
    yield from _words(place=device.place, note=device.note)


def _wire(wire: Wire) -> Pairs:
    yield "id", _text(wire.id)
    yield "from", _text(wire.start)
    yield "to", _text(wire.end)
    yield from _words(kind=wire.kind if wire.kind != "wire" else None)
    yield from _words(colour=wire.colour)
    if wire.awg is None:
        yield from _numbers(mm2=wire.area_mm2)
    else:
        yield "awg", str(wire.awg)
    yield from _numbers(metres=wire.length_m, ohms=wire.ohms)
    yield from _words(place=wire.place, note=wire.note)


def _spec(spec: Spec) -> Pairs:
    match spec:
        case Switch():
            yield from _switch(spec)
        case Lamp():
            yield from _lamp(spec)
        case Plug():
            yield "cavities", _texts(spec.cavities)
            yield from _numbers(ohms=spec.ohms)
        case Box():
            links = [
                _inline(iter([("between", _texts(k.between)), *_numbers(ohms=k.ohms)]))
                for k in spec.links
            ]
            yield "links", "[" + ", ".join(links) + "]"
        case _:
            yield from _plain(spec)


def _plain(spec: Spec) -> Pairs:
    """Return the parameters of a kind that has numbers alone."""
    match spec:
        case Battery(emf_v=emf, ohms=ohms, capacity_ah=capacity_ah):
            return _numbers(emf=emf, ohms=ohms, capacity_ah=capacity_ah)
        case Charger(volts=volts, ohms=ohms):
            return _numbers(volts=volts, ohms=ohms)
        case Fuse(amps=amps, ohms=ohms):
            return _numbers(amps=amps, ohms=ohms)
        case Relay(coil_ohms=coil, pull_in_v=pull_in, ohms=ohms):
            return _numbers(coil_ohms=coil, pull_in_volts=pull_in, ohms=ohms)
        case Diode(drop_v=drop, ohms=ohms):
            return _numbers(drop_volts=drop, ohms=ohms)
        case Load(ohms=ohms) | Motor(ohms=ohms) | Joint(ohms=ohms):
            return _numbers(ohms=ohms)
        case _:
            return iter(())


def _switch(spec: Switch) -> Pairs:
    yield "positions", _texts(spec.positions)
    joins = ((p, "[" + ", ".join(map(_texts, g)) + "]") for p, g in spec.joins)
    yield "joins", _inline(joins)
    if spec.momentary:
        yield "momentary", "true"
    yield from _numbers(ohms=spec.ohms)


def _lamp(spec: Lamp) -> Pairs:
    if spec.filaments[0].name is None:
        yield from _rating(spec.filaments[0])
        return
    filaments = [
        _inline(
            iter([*_words(name=f.name), ("pins", _texts(f.pins)), *_rating(f)]),
        )
        for f in spec.filaments
    ]
    yield "filaments", "[" + ", ".join(filaments) + "]"


def _rating(filament: Filament) -> Pairs:
    yield from _numbers(watts=filament.watts, at_volts=filament.at_volts)
