"""What a bike's odometer showed over the years."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from shop.domain.odometer_readings import (
    KM_A_MILE,
    OdometerUnit,
    Shown,
    distance_words,
    known_km,
)
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer
from shop.models import OdometerReading
from shop.selectors.windows import MOST_ROWS


@dataclass(frozen=True, slots=True, kw_only=True)
class OdometerRow:
    """One reading; `is_corrected` says that another stands in its place."""

    id: int
    bike_id: int
    distance: Decimal
    unit: str
    text: str
    read_on: date
    read_by_name: str
    work_order_id: int | None
    work_order_label: str
    reason: str
    corrects_id: int | None
    is_corrected: bool
    created_at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Odometer:
    """A bike's readings, the newest first, and what they come to."""

    rows: tuple[OdometerRow, ...]
    latest: str
    latest_on: date | None
    unit: str
    ridden: str


def odometer_of_bike(*, bike_id: int, viewer: Viewer) -> Odometer:
    """Return the readings of a bike in one query."""
    viewer.demand(Act.SEE_SHOP)
    found = OdometerReading.objects.of_bike(bike_id).latest_first()
    rows = tuple(
        odometer_row(row)
        for row in found.select_related("work_order", "corrected_by")[:MOST_ROWS]
    )
    standing = [row for row in rows if not row.is_corrected]
    last = standing[0] if standing else None
    return Odometer(
        rows=rows,
        latest=last.text if last else "",
        latest_on=last.read_on if last else None,
        unit=last.unit if last else OdometerUnit.KM.value,
        ridden=_ridden(standing, last.unit) if last else "",
    )


def odometer_reading(*, reading_id: int, viewer: Viewer) -> OdometerRow:
    """Return one reading.

    Raises
    ------
    NotFound
        No such reading.
    """
    viewer.demand(Act.SEE_SHOP)
    found = OdometerReading.objects.select_related("work_order", "corrected_by")
    row = found.filter(pk=reading_id).first()
    if row is None:
        raise NotFound("reading-not-found", "There is no such reading.")
    return odometer_row(row)


def odometer_row(row: OdometerReading) -> OdometerRow:
    """Return a reading as a row; order and correction must have been fetched."""
    return OdometerRow(
        id=row.pk,
        bike_id=row.bike_id,
        distance=row.distance,
        unit=row.unit,
        text=distance_words(row.distance, row.unit),
        read_on=row.read_on,
        read_by_name=row.read_by_name,
        work_order_id=row.work_order_id,
        work_order_label=row.work_order.label if row.work_order else "",
        reason=row.reason,
        corrects_id=row.corrects_id,
        is_corrected=hasattr(row, "corrected_by"),
        created_at=row.created_at,
    )


def _ridden(latest_first: list[OdometerRow], unit: str) -> str:
    km = known_km(
        Shown(distance=row.distance, unit=row.unit, read_on=row.read_on)
        for row in reversed(latest_first)
    )
    if not km:
        return ""
    whole = round(km / KM_A_MILE if unit == OdometerUnit.MILES else km)
    return f"{whole} {unit}"
