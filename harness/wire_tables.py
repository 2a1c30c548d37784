"""Wire tables to wires: ends, colour, size, length, resistance."""

from typing import cast

from harness.colours import NAMES, parse_colour
from harness.conductors import (
    LARGEST_AWG,
    LARGEST_MM2,
    SMALLEST_AWG,
    SMALLEST_MM2,
    awg_area_mm2,
    conductor_ohms,
)
from harness.model import Wire, WireKind
from harness.reading import Table
from harness.suggestions import named_type, quoted

WIRE_KINDS = ("wire", "cable", "strap", "mount")
WIRE_KEYS = (
    *("id", "from", "to", "kind", "colour", "mm2", "awg", "metres", "ohms"),
    *("place", "note"),
)


def read_wire(table: Table, *, wire_id: str) -> Wire | None:
    """Return the wire that a table describes.

    Parameters
    ----------
    table : Table
        One entry of ``[[wires]]``; its id and its keys have been checked before.
    wire_id : str
        The id.

    Returns
    -------
    Wire or None
        None where an end is wrong; other problems leave the wire standing, so that
        they do not hide those of what it joins.
    """
    start, end = _terminal(table, "from"), _terminal(table, "to")
    kind = _kind(table)
    colour = _colour(table)
    area_mm2, awg = _size(table)
    length_m = table.number("metres")
    ohms = table.number("ohms")
    place, note = table.text("place"), table.text("note")
    _check_enough(table, kind)
    if start is None or end is None:
        return None
    if start == end:
        what = f"it runs from {start} to itself"
        table.refuse(what, "give it another end", "to")
    known = area_mm2 is not None and length_m is not None and ohms is None
    return Wire(
        id=wire_id,
        start=start,
        end=end,
        kind=kind,
        colour=colour,
        area_mm2=area_mm2,
        length_m=length_m,
        conductor_ohms=conductor_ohms(area_mm2 or 1.0, length_m or 0.0)
        if known
        else None,
        ohms=ohms,
        place=place,
        note=note,
        line=table.spot.line,
        awg=awg,
    )


def _terminal(table: Table, key: str) -> str | None:
    value = table.text(key)
    if value is None:
        if key not in table.data:
            table.missing(key, f'{key} = "horn.1"')
        return None
    device, dot, pin = value.partition(".")
    if not (device and dot and pin) or "." in pin:
        what = f"{quoted(value)} is not a terminal"
        table.refuse(what, "write device.pin, such as horn.1", key)
        return None
    good = [table.check_id(device, key), table.check_pin(pin, key)]
    return value if all(good) else None


def _kind(table: Table) -> WireKind:
    kind = table.text("kind")
    if kind is None:
        return "wire"
    if kind not in WIRE_KINDS:
        mend = table.did_you_mean(kind, WIRE_KINDS, kind="kinds of wire")
        table.refuse(f"there is no kind of wire {quoted(kind)}", mend, "kind")
        return "wire"
    return cast("WireKind", kind)


def _colour(table: Table) -> str | None:
    letters = table.text("colour")
    if letters is None:
        return None
    try:
        return parse_colour(letters).letters
    except ValueError as error:
        codes = " ".join(NAMES)
        mend = f"write base and tracer as letters, such as RD or RDWH, out of {codes}"
        table.refuse(str(error), mend, "colour")
        return None


def _size(table: Table) -> tuple[float | None, int | None]:
    """Return area in mm2 and the gauge, either None."""
    if "mm2" in table.data and "awg" in table.data:
        table.refuse("it has both mm2 and awg", "give one of them", "awg")
    return (_awg(table)) if "awg" in table.data else (_mm2(table), None)


def _mm2(table: Table) -> float | None:
    value = table.data.get("mm2")
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int | float):
        what = f"mm2 is {named_type(value)}, not a number"
        table.refuse(what, "write square millimetres as a bare number", "mm2")
        return None
    if not SMALLEST_MM2 <= value <= LARGEST_MM2:
        what = f"mm2 is {quoted(value)}, outside the tables"
        mend = f"sizes run from {SMALLEST_MM2:g} to {LARGEST_MM2:g} mm2"
        table.refuse(what, mend, "mm2")
        return None
    return float(value)


def _awg(table: Table) -> tuple[float | None, int | None]:
    value = table.data["awg"]
    if isinstance(value, bool) or not isinstance(value, int):
        what = f"awg is {named_type(value)}, not a whole number"
        table.refuse(what, "write the gauge as a bare whole number", "awg")
        return None, None
    if not LARGEST_AWG <= value <= SMALLEST_AWG:
        what = f"awg is {quoted(value)}, outside the tables"
        mend = f"gauges run from {SMALLEST_AWG} (thin) to {LARGEST_AWG} (thick)"
        table.refuse(what, mend, "awg")
        return None, None
    return awg_area_mm2(value), value


def _check_enough(table: Table, kind: WireKind) -> None:
    """Refuse a wire whose resistance nothing in the table gives."""
    given = table.data.keys() | table.misspelt
    sized = bool(given & {"mm2", "awg"})
    long = "metres" in given
    if kind == "mount":
        for key in ("mm2", "awg", "metres"):
            if key in table.data:
                what = f"a mount is metal on metal and has no {key}"
                table.refuse(what, "give ohms, or nothing", key)
    elif "ohms" in given:
        return
    elif not (sized or long):
        what = "it has no size and no length, so its resistance is not known"
        table.refuse(what, "add mm2 (or awg) and metres, or ohms")
    elif not long:
        table.refuse("it has a size but no length", "add metres, or give ohms")
    elif not sized:
        table.refuse("it has a length but no size", "add mm2 or awg, or give ohms")
