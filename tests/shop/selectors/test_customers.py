"""Customers are found by any word, and shown with what is theirs."""

import pytest
from pytest_django import DjangoAssertNumQueries

from shop.domain.refusals import NotAllowed, NotFound
from shop.selectors.customers import customer_list, customer_page
from tests.builders import (
    BikeFactory,
    CustomerFactory,
    FrontDeskFactory,
    StorekeeperFactory,
    WorkOrderFactory,
)

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("search", "names"),
    [
        ("", ["Ada Fenn", "Ines Roke"]),
        ("fenn", ["Ada Fenn"]),
        ("0999", ["Ines Roke"]),
        ("fenn 0999", []),
        ("ROKE@", ["Ines Roke"]),
        ("%", []),
        ("\x00fenn", ["Ada Fenn"]),
    ],
)
def test_every_word_of_a_search_must_be_found(search: str, names: list[str]) -> None:
    CustomerFactory(name="Ada Fenn", phone="0555 1")
    CustomerFactory(name="Ines Roke", phone="0999 2", email="roke@example.org")
    found = customer_list(viewer=FrontDeskFactory().as_viewer(), search=search)
    assert [row.name for row in found.rows] == names


def test_a_long_list_costs_no_more_queries_than_a_short_one(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    viewer = FrontDeskFactory().as_viewer()
    for size in (1, 12):
        CustomerFactory.create_batch(size)
        with django_assert_num_queries(2):
            customer_list(viewer=viewer)


def test_a_customer_is_shown_with_bikes_and_work_orders(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    viewer = FrontDeskFactory().as_viewer()
    customer = CustomerFactory()
    for _ in range(3):
        WorkOrderFactory(bike=BikeFactory(owner=customer))
    WorkOrderFactory()
    with django_assert_num_queries(5):
        page = customer_page(customer_id=customer.pk, viewer=viewer)
    assert (len(page.bikes), len(page.work_orders)) == (3, 3)
    assert page.customer.name == customer.name


def test_the_storekeeper_sees_no_customers() -> None:
    viewer = StorekeeperFactory().as_viewer()
    with pytest.raises(NotAllowed):
        customer_list(viewer=viewer)
    with pytest.raises(NotAllowed):
        customer_page(customer_id=CustomerFactory().pk, viewer=viewer)


@pytest.mark.parametrize("customer_id", [0, 404, 10**30])
def test_an_unknown_customer_is_not_found(customer_id: int) -> None:
    with pytest.raises(NotFound):
        customer_page(customer_id=customer_id, viewer=FrontDeskFactory().as_viewer())
