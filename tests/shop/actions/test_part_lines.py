"""Parts go on a work order at the list's price of the day."""

from decimal import Decimal

import pytest

from shop.actions.part_lines import add_part_line, void_part_line
from shop.domain.refusals import IllegalMove, NotFound, Refusal
from shop.models import HistoryEntry, PartLine
from tests.builders import (
    MORNING,
    PartFactory,
    PartLineFactory,
    StorekeeperFactory,
    TaxRateFactory,
    UserFactory,
    WorkOrderFactory,
)

pytestmark = pytest.mark.django_db


def test_a_part_line_keeps_a_copy_of_what_the_list_said() -> None:
    tax = TaxRateFactory(label="Reduced", percent=Decimal("5.5"))
    part = PartFactory(
        number="WI-15RD",
        description="Cable 1.5 mm2, red",
        condition="new",
        unit="metre",
        price=Decimal("1.20"),
        tax_rate=tax,
    )
    line = add_part_line(
        work_order_id=WorkOrderFactory().pk,
        part_id=part.pk,
        quantity=Decimal("2.75"),
        acting_user=UserFactory(),
        at=MORNING,
    )
    part.description = "Something else"
    part.price = Decimal(9)
    part.save()
    line.refresh_from_db()
    assert (line.description, line.price) == ("Cable 1.5 mm2, red", Decimal("1.20"))
    assert (line.tax_label, line.tax_percent) == ("Reduced", Decimal("5.5"))
    assert HistoryEntry.objects.get().summary == (
        "2.75 m WI-15RD Cable 1.5 mm2, red put on"
    )


@pytest.mark.parametrize("quantity", ["0", "-1", "1.5", "NaN", "1E+9"])
def test_a_part_in_pieces_is_counted_in_whole_ones(quantity: str) -> None:
    with pytest.raises(Refusal) as refused:
        add_part_line(
            work_order_id=WorkOrderFactory().pk,
            part_id=PartFactory().pk,
            quantity=Decimal(quantity),
            acting_user=UserFactory(),
            at=MORNING,
        )
    assert refused.value.field == "quantity"
    assert not PartLine.objects.exists()


@pytest.mark.parametrize("part_id", [0, 404, 10**30])
def test_a_part_that_is_not_on_the_list_is_refused(part_id: int) -> None:
    with pytest.raises(NotFound) as refused:
        add_part_line(
            work_order_id=WorkOrderFactory().pk,
            part_id=part_id,
            quantity=Decimal(1),
            acting_user=UserFactory(),
            at=MORNING,
        )
    assert refused.value.field == "part_id"


def test_a_retired_part_is_not_put_on() -> None:
    with pytest.raises(NotFound):
        add_part_line(
            work_order_id=WorkOrderFactory().pk,
            part_id=PartFactory(is_retired=True).pk,
            quantity=Decimal(1),
            acting_user=UserFactory(),
            at=MORNING,
        )


def test_an_ended_work_order_takes_no_parts_and_keeps_those_it_has() -> None:
    order = WorkOrderFactory(state="closed")
    line = PartLineFactory(work_order=order)
    with pytest.raises(IllegalMove):
        add_part_line(
            work_order_id=order.pk,
            part_id=line.part_id,
            quantity=Decimal(1),
            acting_user=UserFactory(),
            at=MORNING,
        )
    with pytest.raises(IllegalMove):
        void_part_line(
            line_id=line.pk, reason="back", acting_user=UserFactory(), at=MORNING
        )
    line.refresh_from_db()
    assert not line.is_void


def test_a_part_taken_off_again_is_struck_out_once_with_a_reason() -> None:
    line, keeper = PartLineFactory(), StorekeeperFactory()
    with pytest.raises(Refusal):
        void_part_line(line_id=line.pk, reason="", acting_user=keeper, at=MORNING)
    void_part_line(line_id=line.pk, reason="wrong size", acting_user=keeper, at=MORNING)
    with pytest.raises(IllegalMove):
        void_part_line(line_id=line.pk, reason="x", acting_user=keeper, at=MORNING)
    line.refresh_from_db()
    assert (line.void_reason, line.voided_by) == ("wrong size", keeper)
