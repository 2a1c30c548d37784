"""Part lines are read priced."""

from decimal import Decimal

import pytest

from shop.actions.part_lines import void_part_line
from shop.domain.refusals import NotFound
from shop.selectors.part_lines import part_line, part_line_rows, plain_number
from shop.selectors.shop_settings import shop_facts
from tests.builders import MORNING, PartLineFactory, UserFactory, WorkOrderFactory

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("number", "text"),
    [("2.000", "2"), ("2.750", "2.75"), ("100.000", "100"), ("0.005", "0.005")],
)
def test_a_quantity_is_shown_without_idle_zeros(number: str, text: str) -> None:
    assert plain_number(Decimal(number)) == text


def test_a_line_is_read_with_what_it_comes_to() -> None:
    line = PartLineFactory(
        unit="metre", quantity=Decimal("2.75"), price=Decimal("1.25")
    )
    row = part_line(line_id=line.pk, viewer=UserFactory().as_viewer())
    assert str(row.net) == "3.44"  # 3.4375
    assert (row.quantity_text, row.unit_label) == ("2.75", "m")
    assert row.priced().tax_percent == Decimal(20)


def test_a_void_line_stays_with_its_reason() -> None:
    order, mo = WorkOrderFactory(), UserFactory(first_name="Mo")
    line = PartLineFactory(work_order=order)
    void_part_line(line_id=line.pk, reason="back", acting_user=mo, at=MORNING)
    (row,) = part_line_rows(work_order_id=order.pk, shop=shop_facts())
    assert (row.is_void, row.void_reason, row.voided_by_name) == (True, "back", "Mo")


def test_an_unknown_line_is_not_found() -> None:
    with pytest.raises(NotFound):
        part_line(line_id=404, viewer=UserFactory().as_viewer())
