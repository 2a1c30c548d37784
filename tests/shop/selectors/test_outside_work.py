"""What is with suppliers, what is late, and what it costs the customer."""

from datetime import date
from decimal import Decimal

import pytest
from pytest_django import DjangoAssertNumQueries

from shop.domain.outside_work import OutsideState
from shop.domain.refusals import NotFound
from shop.models import OutsideTag
from shop.selectors.outside_work import (
    OutsideFilter,
    outside_list,
    outside_page,
    outside_rows,
    overdue_outside_work,
    unsettled_outside_work,
)
from shop.selectors.shop_settings import shop_facts
from tests.builders import (
    OutsideWorkFactory,
    StripTagFactory,
    UserFactory,
    WorkOrderFactory,
)

pytestmark = pytest.mark.django_db
TODAY = date(2026, 3, 10)
SENT = {"state": "away", "sent_on": date(2026, 2, 10)}


def test_what_is_late_is_told_with_its_days_the_latest_first() -> None:
    viewer = UserFactory().as_viewer()
    OutsideWorkFactory(promised_on=TODAY, **SENT)
    a_day = OutsideWorkFactory(promised_on=date(2026, 3, 9), **SENT)
    a_week = OutsideWorkFactory(promised_on=date(2026, 3, 3), **SENT)
    OutsideWorkFactory(promised_on=date(2026, 3, 1))
    late = overdue_outside_work(viewer=viewer, today=TODAY)
    assert [(row.id, row.days_late) for row in late] == [(a_week.pk, 7), (a_day.pk, 1)]


def test_outside_work_is_found_by_word_state_and_supplier() -> None:
    viewer = UserFactory().as_viewer()
    rims = OutsideWorkFactory(description="Rims chromed", **SENT)
    seat = OutsideWorkFactory(description="Saddle covered", trade="upholstery")
    for wanted, found in (
        (OutsideFilter(search="chromed"), rims),
        (OutsideFilter(search=seat.label), seat),
        (OutsideFilter(state=OutsideState.AWAY), rims),
        (OutsideFilter(supplier_id=seat.supplier_id), seat),
    ):
        rows = outside_list(viewer=viewer, today=TODAY, wanted=wanted).rows
        assert [row.id for row in rows] == [found.pk], wanted


def test_a_page_shows_its_tags_and_what_may_be_done() -> None:
    work = OutsideWorkFactory(quote_amount=Decimal(80), markup_percent=Decimal(15))
    tag = StripTagFactory(work_order=work.work_order)
    OutsideTag.objects.create(outside_work=work, tag=tag)
    page = outside_page(
        outside_work_id=work.pk, viewer=UserFactory().as_viewer(), today=TODAY
    )
    assert (page.work.net, page.work.is_final) == (Decimal("92.00"), False)
    assert [row.tag.id for row in page.to_come] == [tag.pk]
    assert page.events == ("send", "drop")
    with pytest.raises(NotFound):
        outside_page(outside_work_id=404, viewer=UserFactory().as_viewer(), today=TODAY)


def test_what_stands_in_the_way_of_ending_is_named() -> None:
    order = WorkOrderFactory()
    for made in (
        {},
        SENT,
        {"state": "back", "sent_on": TODAY},
        {"state": "back", "sent_on": TODAY, "cost_amount": Decimal(1)},
        {"state": "dropped"},
    ):
        OutsideWorkFactory(work_order=order, **made)
    said = unsettled_outside_work(work_order_id=order.pk)
    assert [text.split("(")[1].split()[0] for text in said] == [
        "planned,",
        "away",
        "back,",
    ]


def test_much_outside_work_costs_no_more_queries(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    order, viewer, shop = WorkOrderFactory(), UserFactory().as_viewer(), shop_facts()
    for size in (1, 8):
        OutsideWorkFactory.create_batch(size, work_order=order)
        with django_assert_num_queries(1):
            outside_rows(work_order_id=order.pk, shop=shop)
        with django_assert_num_queries(3):
            outside_list(viewer=viewer, today=TODAY)
