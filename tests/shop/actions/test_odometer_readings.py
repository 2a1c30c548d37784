"""Odometers only run forwards, unless somebody says why."""

from datetime import date
from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from shop.actions.odometer_readings import correct_odometer, read_odometer
from shop.domain.odometer_readings import OdometerEntry
from shop.domain.refusals import NotAllowed, Refusal
from shop.models import Bike, HistoryEntry, OdometerReading
from tests.builders import (
    MORNING,
    BikeFactory,
    StorekeeperFactory,
    UserFactory,
    WorkOrderFactory,
)

pytestmark = pytest.mark.django_db


def read(
    bike: Bike, distance: str, *, unit: str = "miles", reason: str = "", day: int = 1
) -> OdometerReading:
    return read_odometer(
        bike_id=bike.pk,
        entry=OdometerEntry(
            distance=Decimal(distance),
            unit=unit,
            reason=reason,
            read_on=date(2026, 3, day) if day else None,
        ),
        acting_user=UserFactory(),
        at=MORNING,
    )


def test_a_reading_says_when_by_whom_and_on_which_job() -> None:
    order, technician = WorkOrderFactory(), UserFactory()
    row = read_odometer(
        bike_id=order.bike_id,
        entry=OdometerEntry(distance=Decimal("20417.3"), unit="miles"),
        work_order_id=order.pk,
        acting_user=technician,
        at=MORNING,
    )
    assert (row.read_on, row.read_by_name) == (MORNING.date(), technician.name)
    told = HistoryEntry.objects.get()
    assert told.summary == "Odometer read: 20417.3 miles"
    assert told.work_order_id == order.pk


@pytest.mark.parametrize(
    ("distance", "unit", "code"),
    [("20416.9", "miles", "reading-lower"), ("32860", "km", "unit-changed")],
)
def test_a_figure_that_does_not_follow_needs_a_reason(
    distance: str, unit: str, code: str
) -> None:
    bike = BikeFactory()
    read(bike, "20417")
    with pytest.raises(Refusal) as refused:
        read(bike, distance, unit=unit)
    assert (refused.value.code, refused.value.field) == (code, "reason")
    row = read(bike, distance, unit=unit, reason="Instrument replaced")
    assert row.reason == "Instrument replaced"


def test_a_reading_found_later_must_fit_between_its_neighbours() -> None:
    bike = BikeFactory()
    read(bike, "25000", day=2)
    with pytest.raises(Refusal) as refused:
        read(bike, "26000", day=1)
    assert refused.value.code == "reading-higher"
    assert read(bike, "24000", day=1).pk


def test_a_wrong_reading_is_corrected_by_one_that_names_it() -> None:
    bike = BikeFactory()
    wrong = read(bike, "94100")
    right = correct_odometer(
        reading_id=wrong.pk,
        entry=OdometerEntry(
            distance=Decimal(49100), unit="miles", reason="Figures swapped"
        ),
        acting_user=UserFactory(),
        at=MORNING,
    )
    assert right.corrects == wrong
    assert read(bike, "49200").pk  # measured against the right one
    with pytest.raises(Refusal) as refused:
        correct_odometer(
            reading_id=wrong.pk,
            entry=OdometerEntry(distance=Decimal(1), unit="miles", reason="no"),
            acting_user=UserFactory(),
            at=MORNING,
        )
    assert refused.value.code == "reading-corrected"


def test_a_correction_without_a_reason_is_refused() -> None:
    wrong = read(BikeFactory(), "94100")
    with pytest.raises(Refusal) as refused:
        correct_odometer(
            reading_id=wrong.pk,
            entry=OdometerEntry(distance=Decimal(49100), unit="miles"),
            acting_user=UserFactory(),
            at=MORNING,
        )
    assert refused.value.field == "reason"
    assert OdometerReading.objects.count() == 1


def test_nobody_reads_an_odometer_tomorrow() -> None:
    with pytest.raises(Refusal) as refused:
        read(BikeFactory(), "10", day=3)
    assert refused.value.code == "day-in-future"


def test_a_work_order_of_another_bike_is_refused() -> None:
    with pytest.raises(Refusal) as refused:
        read_odometer(
            bike_id=BikeFactory().pk,
            entry=OdometerEntry(distance=Decimal(10), unit="km"),
            work_order_id=WorkOrderFactory().pk,
            acting_user=UserFactory(),
            at=MORNING,
        )
    assert refused.value.field == "work_order_id"


def test_the_storekeeper_reads_no_odometer() -> None:
    with pytest.raises(NotAllowed):
        read_odometer(
            bike_id=BikeFactory().pk,
            entry=OdometerEntry(distance=Decimal(10), unit="km"),
            acting_user=StorekeeperFactory(),
            at=MORNING,
        )


def test_no_statement_rewrites_a_reading() -> None:
    row = read(BikeFactory(), "10")
    with pytest.raises(IntegrityError), transaction.atomic():
        OdometerReading.objects.filter(pk=row.pk).update(distance=5)
    with pytest.raises(IntegrityError), transaction.atomic():
        OdometerReading.objects.filter(pk=row.pk).delete()
