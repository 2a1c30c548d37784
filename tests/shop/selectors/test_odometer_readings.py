"""What a bike's odometer showed over the years."""

from datetime import date
from decimal import Decimal

import pytest
from pytest_django import DjangoAssertNumQueries

from shop.actions.odometer_readings import correct_odometer, read_odometer
from shop.domain.odometer_readings import OdometerEntry
from shop.domain.refusals import NotFound
from shop.models import OdometerReading
from shop.selectors.odometer_readings import odometer_of_bike, odometer_reading
from tests.builders import MORNING, BikeFactory, UserFactory

pytestmark = pytest.mark.django_db


def read(bike_id: int, distance: int, year: int, reason: str = "") -> OdometerReading:
    return read_odometer(
        bike_id=bike_id,
        entry=OdometerEntry(
            distance=Decimal(distance),
            unit="miles",
            read_on=date(year, 5, 1),
            reason=reason,
        ),
        acting_user=UserFactory(),
        at=MORNING,
    )


def test_miles_are_added_up_across_a_new_instrument(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    bike = BikeFactory()
    read(bike.pk, 20_000, 2015)
    read(bike.pk, 20_500, 2017)
    read(bike.pk, 10, 2019, reason="Instrument replaced")
    read(bike.pk, 260, 2021)
    viewer = UserFactory().as_viewer()
    with django_assert_num_queries(1):
        found = odometer_of_bike(bike_id=bike.pk, viewer=viewer)
    assert (found.latest, found.latest_on) == ("260 miles", date(2021, 5, 1))
    assert found.ridden == "750 miles"


def test_a_corrected_reading_stays_in_sight_and_counts_no_more() -> None:
    bike = BikeFactory()
    read(bike.pk, 20_000, 2015)
    wrong = read(bike.pk, 94_100, 2016)
    correct_odometer(
        reading_id=wrong.pk,
        entry=OdometerEntry(distance=Decimal(20_100), unit="miles", reason="Misread"),
        acting_user=UserFactory(),
        at=MORNING,
    )
    found = odometer_of_bike(bike_id=bike.pk, viewer=UserFactory().as_viewer())
    assert [(row.text, row.is_corrected) for row in found.rows] == [
        ("20100 miles", False),
        ("94100 miles", True),
        ("20000 miles", False),
    ]
    assert found.ridden == "100 miles"


def test_a_bike_without_readings_says_nothing() -> None:
    found = odometer_of_bike(bike_id=BikeFactory().pk, viewer=UserFactory().as_viewer())
    assert (found.rows, found.latest, found.ridden) == ((), "", "")


def test_an_unknown_reading_is_not_found() -> None:
    with pytest.raises(NotFound):
        odometer_reading(reading_id=404, viewer=UserFactory().as_viewer())
