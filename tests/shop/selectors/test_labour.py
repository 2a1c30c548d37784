"""Labour lines are read priced."""

from decimal import Decimal

import pytest

from shop.actions.labour import void_labour
from shop.domain.refusals import NotFound
from shop.selectors.labour import labour_line, labour_rows
from shop.selectors.shop_settings import shop_facts
from tests.builders import MORNING, LabourLineFactory, UserFactory, WorkOrderFactory

pytestmark = pytest.mark.django_db


def test_a_line_is_read_with_what_it_comes_to() -> None:
    line = LabourLineFactory(minutes=95, hourly_rate=Decimal("54.00"))
    row = labour_line(line_id=line.pk, viewer=UserFactory().as_viewer())
    assert str(row.net) == "85.50"
    assert str(row.hourly_rate) == "54.00"
    assert row.time_text == "1 h 35 min"
    assert row.kind_label == "Fault finding"
    assert row.priced().net == row.net


def test_lines_stand_in_the_order_of_the_work_and_void_ones_stay() -> None:
    order = WorkOrderFactory()
    later = LabourLineFactory(work_order=order, done_on=MORNING.date().replace(day=9))
    first = LabourLineFactory(work_order=order)
    LabourLineFactory()
    void_labour(
        line_id=first.pk, reason="twice", acting_user=first.technician, at=MORNING
    )
    rows = labour_rows(work_order_id=order.pk, shop=shop_facts())
    assert [row.id for row in rows] == [first.pk, later.pk]
    assert [row.is_void for row in rows] == [True, False]
    assert (rows[0].void_reason, rows[0].voided_by_name) == (
        "twice",
        first.technician.name,
    )


def test_an_unknown_line_is_not_found() -> None:
    with pytest.raises(NotFound):
        labour_line(line_id=404, viewer=UserFactory().as_viewer())
