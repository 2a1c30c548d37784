"""A draft's tables as places, devices and wires, ready for the checks."""

from dataclasses import dataclass, field, replace
from typing import cast

from harness.device_tables import read_spec
from harness.kinds import Body, Relay, Spec
from harness.model import Device, Harness, Place, Pole, Wire
from harness.reading import Table
from harness.suggestions import quoted
from harness.variants import Draft
from harness.wire_tables import read_wire

SYSTEM_VOLTS = (6, 12, 24)
POLES = ("negative", "positive")


@dataclass
class Parts:
    """Everything read, each with the table that it came from.

    Attributes
    ----------
    draft : Draft
        The tables.
    title, volts, earth : str, float, str
    places : dict of str to Place
    specs : dict of str to (Spec or None)
        None where the device's own table is wrong, so that nothing more is said of it.
    wires : dict of str to Wire
        Those whose ends could be read.
    """

    draft: Draft
    title: str
    volts: float
    earth: Pole
    places: dict[str, Place] = field(default_factory=dict)
    specs: dict[str, Spec | None] = field(default_factory=dict)
    wires: dict[str, Wire] = field(default_factory=dict)

    def harness(self) -> Harness:
        """Return the frozen harness; only for parts that passed every check."""
        return Harness.build(
            title=self.title,
            volts=self.volts,
            earth=self.earth,
            places=self.places.values(),
            devices=[
                _device(table, spec or Body())
                for table, spec in zip(
                    self.draft.devices.values(), self.specs.values(), strict=True
                )
            ],
            wires=self.wires.values(),
        )


def read_parts(draft: Draft, *, title: str) -> Parts:
    """Read every table of a draft; what is wrong is noted in its list of problems.

    Parameters
    ----------
    draft : Draft
        The tables.
    title : str
        Used where no file gives a title.
    """
    volts = _volts(draft)
    parts = Parts(draft, _title(draft) or title, volts, _earth(draft))
    for place_id, table in draft.places.items():
        parts.places[place_id] = _place(place_id, table)
    for device_id, table in draft.devices.items():
        parts.specs[device_id] = read_spec(table, volts=volts)
        table.text("name")
        table.text("note")
        table.text("place")
    for wire_id, table in draft.wires.items():
        wire = read_wire(table, wire_id=wire_id)
        if wire is not None:
            parts.wires[wire_id] = wire
    _give_break_contacts(parts)
    return parts


def _device(table: Table, spec: Spec) -> Device:
    name, note, place = (table.data.get(key) for key in ("name", "note", "place"))
    return Device(
        id=str(table.spot.path[-1]),
        spec=spec,
        place=cast("str | None", place),
        name=cast("str | None", name),
        note=cast("str | None", note),
        line=table.spot.line,
    )


def _title(draft: Draft) -> str | None:
    return draft.head["title"].text("title") if "title" in draft.head else None


def _volts(draft: Draft) -> float:
    """Return nominal volts; 12 stands in where they are wrong, and that is noted."""
    if "volts" not in draft.head:
        if draft.whole:
            draft.top.missing("volts", "volts = 12 (or 6, or 24)")
        return 12.0
    table = draft.head["volts"]
    value = table.data["volts"]
    number = isinstance(value, int | float) and not isinstance(value, bool)
    if not number or value not in SYSTEM_VOLTS:
        what = f"volts is {quoted(value)}"
        table.refuse(what, "a system has 6, 12 or 24 volts", "volts")
        return 12.0
    return float(cast("float", value))


def _earth(draft: Draft) -> Pole:
    if "earth" not in draft.head:
        mend = 'earth = "negative" or earth = "positive": the pole bonded to the frame'
        if draft.whole:
            draft.top.missing("earth", mend)
        return "negative"
    table = draft.head["earth"]
    value = table.text("earth")
    if value is not None and value not in POLES:
        what = f"earth is {quoted(value)}"
        mend = "write the battery pole bonded to the frame: negative or positive"
        table.refuse(what, mend, "earth")
    return "positive" if value == "positive" else "negative"


def _place(place_id: str, table: Table) -> Place:
    table.only(("name", "access_minutes", "note"), of="a place")
    name = table.text("name")
    table.text("note")
    minutes = table.number("access_minutes", 0.0)
    return Place(place_id, name or place_id.replace("-", " "), minutes or 0.0)


def _give_break_contacts(parts: Parts) -> None:
    """Give a relay its break contact where a wire goes to 87a."""
    used = {t for wire in parts.wires.values() for t in (wire.start, wire.end)}
    for device_id, spec in parts.specs.items():
        if isinstance(spec, Relay) and f"{device_id}.87a" in used:
            parts.specs[device_id] = replace(spec, has_break_contact=True)
