"""What a work order comes to, line by line and in all (check-values X16, X17)."""

from decimal import Decimal

import pytest
from pytest_django import DjangoAssertNumQueries

from shop.actions.labour import void_labour
from shop.models import WorkOrder
from shop.selectors.totals import work_order_totals
from tests.builders import (
    MORNING,
    LabourLineFactory,
    OutsideWorkFactory,
    PartLineFactory,
    ShopSettingsFactory,
    WorkOrderFactory,
)

pytestmark = pytest.mark.django_db


def order_with_three_lines(price: str, percent: int) -> WorkOrder:
    order = WorkOrderFactory()
    for _ in range(3):
        PartLineFactory(
            work_order=order,
            quantity=Decimal(1),
            price=Decimal(price),
            tax_percent=Decimal(percent),
        )
    return order


@pytest.mark.parametrize(
    ("rounding", "first", "second"),
    [("per_rate", "0.56", "0.61"), ("per_line", "0.57", "0.60")],
)
def test_the_shops_setting_decides_where_tax_is_rounded(
    rounding: str, first: str, second: str
) -> None:
    # X17 (calc): 19 %, three lines of 0.99; 20 %, three lines of 1.02.
    ShopSettingsFactory(tax_rounding=rounding)
    for price, percent, tax in (("0.99", 19, first), ("1.02", 20, second)):
        order = order_with_three_lines(price, percent)
        assert work_order_totals(work_order_id=order.pk).tax == Decimal(tax)


def test_hours_and_parts_are_summed_apart_and_together() -> None:
    order = WorkOrderFactory()
    LabourLineFactory(work_order=order, minutes=50, hourly_rate=Decimal("54.00"))
    LabourLineFactory(work_order=order, minutes=40, hourly_rate=Decimal("54.00"))
    PartLineFactory(
        work_order=order,
        quantity=Decimal(3),
        price=Decimal("10.00"),
        tax_label="Reduced",
        tax_percent=Decimal(5),
    )
    sums = work_order_totals(work_order_id=order.pk)
    assert (sums.labour_minutes, sums.labour_net) == (90, Decimal("81.00"))
    assert sums.parts_net == Decimal("30.00")
    assert [(r.label, r.net, r.tax, r.gross) for r in sums.rates] == [
        ("Standard", Decimal("81.00"), Decimal("16.20"), Decimal("97.20")),
        ("Reduced", Decimal("30.00"), Decimal("1.50"), Decimal("31.50")),
    ]
    # X16 (pub S60): BR-CO-13, 14, 15.
    assert (sums.net, sums.tax, sums.gross) == (
        Decimal("111.00"),
        Decimal("17.70"),
        Decimal("128.70"),
    )


def test_outside_work_is_paid_with_its_mark_up_and_its_own_tax() -> None:
    # calc: 86.50 x 1.15 = 99.475, half up 99.48; 5 % of it 4.974, half up 4.97.
    order = WorkOrderFactory()
    OutsideWorkFactory(
        work_order=order,
        quote_amount=Decimal("80.00"),
        cost_amount=Decimal("86.50"),
        markup_percent=Decimal(15),
        tax_label="Reduced",
        tax_percent=Decimal(5),
    )
    OutsideWorkFactory(work_order=order, state="dropped", quote_amount=Decimal(500))
    sums = work_order_totals(work_order_id=order.pk)
    assert (sums.outside_net, sums.net) == (Decimal("99.48"), Decimal("99.48"))
    assert (sums.tax, sums.gross) == (Decimal("4.97"), Decimal("104.45"))


def test_what_is_struck_out_is_not_paid_for() -> None:
    line = LabourLineFactory()
    void_labour(
        line_id=line.pk, reason="twice", acting_user=line.technician, at=MORNING
    )
    sums = work_order_totals(work_order_id=line.work_order_id)
    assert str(sums.gross) == "0.00"
    assert sums.rates == ()


def test_many_lines_cost_no_more_queries_than_few(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    order = WorkOrderFactory()
    for size in (1, 6):
        LabourLineFactory.create_batch(size, work_order=order)
        PartLineFactory.create_batch(size, work_order=order)
        OutsideWorkFactory.create_batch(size, work_order=order)
        with django_assert_num_queries(4):
            work_order_totals(work_order_id=order.pk)
