"""Outside work from the plan to the bill, on the pages that people use."""

from datetime import date
from decimal import Decimal

import pytest
from django.test import Client
from django.utils import timezone

from shop.domain.roles import Role
from shop.models import OutsideWork
from tests.builders import (
    OutsideWorkFactory,
    ShopSettingsFactory,
    StripTagFactory,
    SupplierFactory,
    WorkOrderFactory,
)
from tests.shop.web.pages import as_role, error_at, queries_of, url, words

pytestmark = pytest.mark.django_db


@pytest.fixture
def store() -> Client:
    ShopSettingsFactory.create()
    return as_role(Role.STOREKEEPER)


def test_rims_go_out_and_come_back_with_their_bill(store: Client) -> None:
    tag = StripTagFactory.create()
    supplier = SupplierFactory.create(markup_percent=Decimal(15))
    planned = store.post(
        url("outside_work_add", tag.work_order_id),
        {
            "supplier_id": supplier.pk,
            "trade": "plating",
            "description": "Rim chromed",
            "quote_amount": "80",
            "tag_ids": [tag.pk],
        },
        follow=True,
    )
    assert "OW-101 is planned" in words(planned)
    work = OutsideWork.objects.get()
    assert work.markup_percent == 15
    today = timezone.localdate().isoformat()
    sent = store.post(
        url("outside_work_send", work.pk), {"sent_on": today}, follow=True
    )
    assert f"Out at {supplier.name}" in words(sent)
    refused = store.post(
        url("outside_work_back", work.pk), {f"result_{tag.pk}": "not_good"}
    )
    assert "Say what is wrong" in words(refused)
    back = store.post(
        url("outside_work_back", work.pk),
        {f"result_{tag.pk}": "good", f"shelf_{tag.pk}": "C2"},
        follow=True,
    )
    assert "Its cost is not entered yet" in words(back)
    store.post(
        url("outside_work_edit", work.pk),
        {
            "supplier_id": supplier.pk,
            "trade": "plating",
            "description": "Rim chromed",
            "quote_amount": "80.00",
            "cost_amount": "86,50",
            "markup_percent": "15.00",
            "initial-supplier_id": supplier.pk,
            "initial-trade": "plating",
            "initial-description": "Rim chromed",
            "initial-quote_amount": "80.00",
            "initial-markup_percent": "15.00",
        },
    )
    ticket = words(store.get(url("work_order", tag.work_order_id)))
    assert "Outside work €99.48" in ticket


def test_what_is_late_stands_on_todays_page(store: Client) -> None:
    late = OutsideWorkFactory.create(
        work_order=WorkOrderFactory.create(state="on_the_bench"),
        state="away",
        sent_on=date(2026, 1, 5),
        promised_on=date(2026, 1, 20),
    )
    page = words(store.get(url("today")))
    assert "Overdue at suppliers" in page
    assert late.label in page
    assert "days late" in words(store.get(url("outside_work"), {"state": "overdue"}))
    assert "Late" in words(store.get(url("work_order", late.work_order_id)))


@pytest.mark.parametrize("amount", ["-1", "x", "1e99", "NaN"])
def test_an_amount_that_is_none_stands_at_its_field(store: Client, amount: str) -> None:
    answer = store.post(
        url("outside_work_add", WorkOrderFactory.create().pk),
        {
            "supplier_id": SupplierFactory.create().pk,
            "trade": "paint",
            "description": "Tank",
            "quote_amount": amount,
        },
    )
    assert answer.status_code == 422
    assert error_at(answer, "quote_amount")
    assert not OutsideWork.objects.exists()


def test_it_is_dropped_and_sent_again_with_a_reason(store: Client) -> None:
    planned = OutsideWorkFactory.create()
    assert error_at(store.post(url("outside_work_drop", planned.pk), {}), "reason")
    dropped = store.post(
        url("outside_work_drop", planned.pk), {"reason": "Too dear"}, follow=True
    )
    assert "is dropped" in words(dropped)
    back = OutsideWorkFactory.create(state="back", sent_on=date(2026, 1, 5))
    tag = StripTagFactory.create(work_order=back.work_order)
    again = store.post(
        url("outside_work_again", back.pk),
        {
            "reason": "Flaked",
            "sent_on": timezone.localdate().isoformat(),
            "tag_ids": [tag.pk],
        },
        follow=True,
    )
    assert "is on its way again" in words(again)


def test_without_a_supplier_the_page_says_what_to_do_first(store: Client) -> None:
    page = words(store.get(url("outside_work_add", WorkOrderFactory.create().pk)))
    assert "Write one down first." in page


def test_a_long_list_takes_no_more_queries(store: Client) -> None:
    address = url("outside_work") + "?state=all"
    OutsideWorkFactory.create_batch(2)
    few = queries_of(store, address)
    OutsideWorkFactory.create_batch(20)
    assert queries_of(store, address) == few
