"""The parts list is searched by number, words, bin and condition."""

from decimal import Decimal

import pytest
from pytest_django import DjangoAssertNumQueries

from shop.domain.parts import PartCondition
from shop.domain.refusals import NotFound
from shop.selectors.parts import PartFilter, part_list, part_page
from tests.builders import PartFactory, ShopSettingsFactory, StorekeeperFactory

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("wanted", "numbers"),
    [
        (PartFilter(), ["EL-1", "EL-2"]),
        (PartFilter(search="brass"), ["EL-1"]),
        (PartFilter(search="c4"), ["EL-2"]),
        (PartFilter(condition=PartCondition.USED), ["EL-2"]),
        (PartFilter(retired_too=True), ["EL-1", "EL-2", "EL-3"]),
    ],
)
def test_parts_are_narrowed(wanted: PartFilter, numbers: list[str]) -> None:
    PartFactory(number="EL-1", description="Bullet, brass")
    PartFactory(number="EL-2", description="Dynamo brush", condition="used", bin="C4")
    PartFactory(number="EL-3", description="Old stock", is_retired=True)
    found = part_list(viewer=StorekeeperFactory().as_viewer(), wanted=wanted)
    assert [row.number for row in found.rows] == numbers


def test_a_long_list_costs_no_more_queries_than_a_short_one(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    viewer = StorekeeperFactory().as_viewer()
    for size in (1, 12):
        PartFactory.create_batch(size)
        with django_assert_num_queries(3):
            part_list(viewer=viewer)


@pytest.mark.parametrize(("digits", "price"), [(2, "12.40"), (0, "12"), (3, "12.400")])
def test_a_price_has_the_places_of_the_currency(digits: int, price: str) -> None:
    ShopSettingsFactory(minor_digits=digits)
    part = PartFactory(price=Decimal("12.40"))
    row = part_page(part_id=part.pk, viewer=StorekeeperFactory().as_viewer())
    assert str(row.price) == price
    assert (row.tax_label, row.unit_label) == (part.tax_rate.label, "each")


def test_an_unknown_part_is_not_found() -> None:
    with pytest.raises(NotFound):
        part_page(part_id=404, viewer=StorekeeperFactory().as_viewer())
