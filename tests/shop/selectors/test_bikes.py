"""Bikes are found by what is stamped on them."""

import pytest
from pytest_django import DjangoAssertNumQueries

from shop.domain.refusals import NotAllowed, NotFound
from shop.selectors.bikes import bike_list, bike_page
from shop.selectors.windows import Window
from tests.builders import (
    BikeFactory,
    CustomerFactory,
    FrontDeskFactory,
    StorekeeperFactory,
    WorkOrderFactory,
)

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("search", ["H35/0417", "0417 e", "tarnfell 417", "fenn"])
def test_a_bike_is_found_by_number_make_or_owner(search: str) -> None:
    wanted = BikeFactory(
        frame_number="H35/0417",
        engine_number="0417 E",
        owner=CustomerFactory(name="Ada Fenn"),
    )
    BikeFactory(frame_number="other", engine_number="other", registration="other")
    found = bike_list(viewer=FrontDeskFactory().as_viewer(), search=search)
    assert [row.id for row in found.rows] == [wanted.pk]


def test_the_storekeeper_sees_bikes_without_their_owners() -> None:
    bike = BikeFactory(owner=CustomerFactory(name="Ada Fenn"))
    viewer = StorekeeperFactory().as_viewer()
    (row,) = bike_list(viewer=viewer).rows
    assert (row.owner_id, row.owner_name) == (None, "")
    assert bike_list(viewer=viewer, search="fenn").total == 0
    with pytest.raises(NotAllowed):
        bike_list(viewer=viewer, owner_id=bike.owner_id)


def test_one_customers_bikes_are_listed_alone() -> None:
    bike = BikeFactory()
    BikeFactory()
    found = bike_list(viewer=FrontDeskFactory().as_viewer(), owner_id=bike.owner_id)
    assert [row.id for row in found.rows] == [bike.pk]


def test_a_long_list_costs_no_more_queries_than_a_short_one(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    viewer = FrontDeskFactory().as_viewer()
    for size in (1, 12):
        BikeFactory.create_batch(size)
        with django_assert_num_queries(2):
            bike_list(viewer=viewer, window=Window(limit=10))


def test_a_bike_is_shown_with_its_work_orders_and_its_polarity(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    bike = BikeFactory(earth="positive", system_volts=6)
    first = WorkOrderFactory(bike=bike)
    second = WorkOrderFactory(bike=bike)
    viewer = FrontDeskFactory().as_viewer()
    with django_assert_num_queries(7):
        page = bike_page(bike_id=bike.pk, viewer=viewer)
    assert [row.id for row in page.work_orders] == [second.pk, first.pk]
    assert (page.bike.earth_label, page.bike.system_volts) == ("Positive earth", 6)


def test_an_unknown_bike_is_not_found() -> None:
    with pytest.raises(NotFound):
        bike_page(bike_id=404, viewer=FrontDeskFactory().as_viewer())
