"""The library of drawings, as a list and one by one."""

from dataclasses import dataclass
from datetime import datetime

from diagnostics.engine import loom_of
from diagnostics.models import HarnessFile
from diagnostics.words import capital, wire_view
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer, demand


@dataclass(frozen=True, kw_only=True)
class HarnessFileLine:
    """One drawing on the shelf."""

    harness_file_id: int
    maker: str
    model: str
    years: str
    title: str
    nominal_volts: int
    earth: str
    wire_count: int
    device_count: int
    sha256: str
    added_by: str
    added_at: datetime

    @property
    def name(self) -> str:
        """Maker, model and years in one line."""
        return f"{self.maker} {self.model} {self.years}".strip()


@dataclass(frozen=True, kw_only=True)
class WireLine:
    """One wire of a drawing."""

    wire_id: str
    letters: str
    colour: str
    start: str
    end: str
    size: str
    length: str


@dataclass(frozen=True, kw_only=True)
class DeviceLine:
    """One device of a drawing."""

    device_id: str
    title: str
    kind: str
    place: str


@dataclass(frozen=True, kw_only=True)
class HarnessFilePage:
    """A drawing with everything that is in it."""

    line: HarnessFileLine
    text: str
    devices: tuple[DeviceLine, ...]
    wires: tuple[WireLine, ...]


@dataclass(frozen=True, kw_only=True)
class Library:
    """The shelf, and whether the viewer may add to it."""

    lines: tuple[HarnessFileLine, ...]
    may_add: bool
    words: str


def library(*, viewer: Viewer, words: str = "") -> Library:
    """Return the drawings that carry every word, by maker, model and years."""
    demand(viewer.role, Act.SEE_SHOP)
    found = HarnessFile.objects.matching(words).by_bike()
    rows = found.defer("text").select_related("added_by")
    return Library(
        lines=tuple(_line(row) for row in rows),
        may_add=viewer.may(Act.KEEP_LOOM_LIBRARY),
        words=words,
    )


def drawings_for(
    *, viewer: Viewer, nominal_volts: int, earth: str
) -> tuple[HarnessFileLine, ...]:
    """Return the drawings that a bike of this voltage and polarity can go by."""
    demand(viewer.role, Act.SEE_SHOP)
    rows = HarnessFile.objects.fitting(nominal_volts, earth).by_bike()
    return tuple(_line(row) for row in rows.defer("text").select_related("added_by"))


def harness_file_page(*, harness_file_id: int, viewer: Viewer) -> HarnessFilePage:
    """Return one drawing, its devices and wires.

    Raises
    ------
    NotFound
        There is no such drawing.
    """
    demand(viewer.role, Act.SEE_SHOP)
    row = (
        HarnessFile.objects.select_related("added_by")
        .filter(pk=harness_file_id)
        .first()
    )
    if row is None:
        raise NotFound(
            "harness-file-not-found",
            "There is no such drawing in the library.",
            "harness_file_id",
        )
    h = loom_of(row.sha256)
    return HarnessFilePage(
        line=_line(row),
        text=row.text,
        devices=tuple(
            DeviceLine(
                device_id=device.id,
                title=capital(device.title),
                kind=device.kind,
                place=h.places[device.place].name if device.place else "",
            )
            for device in h.devices.values()
        ),
        wires=tuple(
            WireLine(
                wire_id=wire.id,
                letters=wire_view(h, wire.id).letters,
                colour=wire_view(h, wire.id).words,
                start=wire.start,
                end=wire.end,
                size=f"{wire.area_mm2:g} mm²" if wire.area_mm2 else "",
                length=f"{wire.length_m:g} m" if wire.length_m else "",
            )
            for wire in sorted(h.wires.values(), key=lambda wire: _natural(wire.id))
        ),
    )


def _natural(name: str) -> tuple[int, str]:
    return (int(name), "") if name.isdecimal() else (10**9, name)


def _line(row: HarnessFile) -> HarnessFileLine:
    return HarnessFileLine(
        harness_file_id=row.pk,
        maker=row.maker,
        model=row.model,
        years=row.years,
        title=row.title,
        nominal_volts=row.nominal_volts,
        earth=row.earth,
        wire_count=row.wire_count,
        device_count=row.device_count,
        sha256=row.sha256,
        added_by=row.added_by.name,
        added_at=row.added_at,
    )
