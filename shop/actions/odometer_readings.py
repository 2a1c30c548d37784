"""Odometers read; a wrong reading is corrected by a new one that names it."""

from dataclasses import dataclass, replace
from datetime import date, datetime
from zoneinfo import ZoneInfo

from django.db import transaction

from shop.actions._rows import locked, open_work_order
from shop.actions.history import Happening, record
from shop.domain.entries import VOID_REASON
from shop.domain.odometer_readings import (
    OdometerEntry,
    Shown,
    demand_reason,
    distance_words,
)
from shop.domain.refusals import IllegalMove, Refusal
from shop.domain.roles import Act
from shop.models import Bike, OdometerReading, ShopSettings, User


@dataclass(frozen=True, slots=True, kw_only=True)
class _Reading:
    """A reading about to be written, and what it stands beside or replaces."""

    bike: Bike
    entry: OdometerEntry
    read_on: date
    work_order_id: int | None
    corrects: OdometerReading | None


@transaction.atomic
def read_odometer(
    *,
    bike_id: int,
    entry: OdometerEntry,
    acting_user: User,
    at: datetime,
    work_order_id: int | None = None,
) -> OdometerReading:
    """Write down what a bike's odometer shows.

    Raises
    ------
    Refusal
        It runs backwards without a reason, lies in the future, or the work order has
        ended or is for another bike.
    """
    acting_user.demand(Act.KEEP_BIKES)
    bike = _bike(bike_id)
    if work_order_id is not None and open_work_order(work_order_id).bike_id != bike.pk:
        raise Refusal(
            "work-order-of-another-bike",
            f"That work order is not for {bike.name}; choose one that is.",
            "work_order_id",
        )
    reading = _Reading(
        bike=bike,
        entry=entry.checked(),
        read_on=_day(entry.read_on, at),
        work_order_id=work_order_id,
        corrects=None,
    )
    return _write(reading, acting_user=acting_user, at=at)


@transaction.atomic
def correct_odometer(
    *, reading_id: int, entry: OdometerEntry, acting_user: User, at: datetime
) -> OdometerReading:
    """Put a right reading in the place of a wrong one, with the reason; both stay.

    Raises
    ------
    Refusal
        There is no reason, or another reading corrects this one already.
    """
    acting_user.demand(Act.KEEP_BIKES)
    wrong = locked(
        OdometerReading.objects.all(), pk=reading_id, field="reading_id", name="reading"
    )
    bike = _bike(wrong.bike_id)
    if not OdometerReading.objects.standing().filter(pk=wrong.pk).exists():
        raise IllegalMove(
            "reading-corrected",
            "This reading is corrected already; correct the newer one.",
        )
    why = VOID_REASON.clean(entry.reason)
    reading = _Reading(
        bike=bike,
        entry=replace(entry, reason=why).checked(),
        read_on=_day(entry.read_on or wrong.read_on, at),
        work_order_id=wrong.work_order_id,
        corrects=wrong,
    )
    return _write(reading, acting_user=acting_user, at=at)


def _write(reading: _Reading, *, acting_user: User, at: datetime) -> OdometerReading:
    entry, corrects = reading.entry, reading.corrects
    others = OdometerReading.objects.of_bike(reading.bike.pk).standing()
    others = others.but(corrects)
    demand_reason(
        entry,
        before=_shown(others.until(reading.read_on).latest_first().first()),
        after=_shown(others.after(reading.read_on).earliest_first().first()),
    )
    row = OdometerReading.objects.create(
        bike=reading.bike,
        work_order_id=reading.work_order_id,
        corrects=corrects,
        distance=entry.distance,
        unit=entry.unit,
        read_on=reading.read_on,
        reason=entry.reason,
        read_by=acting_user,
        read_by_name=acting_user.name,
        created_at=at,
    )
    figure = distance_words(entry.distance, entry.unit)
    verb, told = "odometer_reading.taken", f"Odometer read: {figure}"
    if corrects is not None:
        wrong = distance_words(corrects.distance, corrects.unit)
        verb = "odometer_reading.corrected"
        told = f"Odometer corrected from {wrong} to {figure}"
    record(
        Happening(
            verb=verb,
            kind="bike",
            subject_id=reading.bike.pk,
            work_order_id=reading.work_order_id,
            summary=told,
            reason=entry.reason,
        ),
        acting_user=acting_user,
        at=at,
    )
    return row


def _bike(bike_id: int) -> Bike:
    return locked(Bike.objects.all(), pk=bike_id, field="bike_id", name="bike")


def _shown(row: OdometerReading | None) -> Shown | None:
    if row is None:
        return None
    return Shown(distance=row.distance, unit=row.unit, read_on=row.read_on)


def _day(read_on: date | None, at: datetime) -> date:
    zone = ZoneInfo(ShopSettings.objects.current().time_zone)
    today = at.astimezone(zone).date()
    if read_on is not None and read_on > today:
        raise Refusal(
            "day-in-future", "An odometer cannot be read before the day.", "read_on"
        )
    return read_on or today
