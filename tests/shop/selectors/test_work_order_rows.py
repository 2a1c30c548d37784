"""Work orders as rows, on the page of a bike or a customer."""

import pytest
from pytest_django import DjangoAssertNumQueries

from shop.selectors.work_order_rows import (
    work_orders_of_bike,
    work_orders_of_customer,
)
from tests.builders import (
    BikeFactory,
    FrontDeskFactory,
    StorekeeperFactory,
    UserFactory,
    WorkOrderFactory,
)

pytestmark = pytest.mark.django_db


def test_rows_are_read_in_one_query_however_many(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    bike, viewer = BikeFactory(), FrontDeskFactory().as_viewer()
    for size in (1, 5):
        WorkOrderFactory.create_batch(size, bike=bike, technician=UserFactory())
        with django_assert_num_queries(1):
            work_orders_of_bike(bike_id=bike.pk, viewer=viewer)
        with django_assert_num_queries(1):
            work_orders_of_customer(customer_id=bike.owner_id, viewer=viewer)
    rows = work_orders_of_bike(bike_id=bike.pk, viewer=viewer)
    assert len(rows) == 6
    assert [row.number for row in rows] == sorted(
        (row.number for row in rows), reverse=True
    )


def test_a_row_says_it_in_words() -> None:
    order = WorkOrderFactory(number=1412, state="on_the_bench")
    (row,) = work_orders_of_bike(
        bike_id=order.bike_id, viewer=FrontDeskFactory().as_viewer()
    )
    assert (row.label, row.state_label) == ("WO-1412", "On the bench")
    assert (row.bike_name, row.technician_name) == ("Tarnfell Heron 350 (1961)", "")
    (row,) = work_orders_of_bike(
        bike_id=order.bike_id, viewer=StorekeeperFactory().as_viewer()
    )
    assert row.customer_name == ""
