from decimal import Decimal

import pytest
from pytest_django import DjangoAssertNumQueries

from shop.domain.bikes import EarthPolarity
from shop.domain.lifecycle import State
from shop.domain.refusals import NotFound
from shop.selectors.reports import report_facts
from tests.builders import LabourLineFactory, PartLineFactory
from tests.shop.paper_room import order_with_work

pytestmark = pytest.mark.django_db


def test_the_facts_hold_all_that_the_shop_knows() -> None:
    order = order_with_work()
    facts = report_facts(work_order_id=order.pk)
    assert facts.order.label == order.label
    assert facts.order.state is State.BOOKED_IN
    assert facts.bike.earth is EarthPolarity.POSITIVE
    assert facts.customer.name == "Ottilie Marsh"
    assert [row.minutes for row in facts.labour] == [95]
    assert [row.condition_label for row in facts.parts] == ["New", "New old stock"]
    assert facts.totals.gross == Decimal("104.80")


def test_the_number_of_queries_does_not_grow_with_the_lines(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    order = order_with_work()
    LabourLineFactory.create_batch(5, work_order=order)
    PartLineFactory.create_batch(5, work_order=order)
    with django_assert_num_queries(5):
        report_facts(work_order_id=order.pk)


def test_a_work_order_that_is_not_there_has_no_facts() -> None:
    with pytest.raises(NotFound):
        report_facts(work_order_id=404)
