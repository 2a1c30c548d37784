"""Part lines of a work order."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from shop.domain.parts import (
    CONDITION_LABELS,
    UNIT_LABELS,
    PartCondition,
    PartUnit,
)
from shop.domain.pricing import PricedLine, part_net
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer
from shop.models import PartLine
from shop.selectors.shop_settings import ShopFacts, shop_facts


@dataclass(frozen=True, slots=True, kw_only=True)
class PartLineRow:
    """One part line, priced."""

    id: int
    work_order_id: int
    part_id: int
    number: str
    description: str
    condition: str
    condition_label: str
    unit: str
    unit_label: str
    quantity: Decimal
    quantity_text: str
    price: Decimal
    net: Decimal
    tax_label: str
    tax_percent: Decimal
    created_at: datetime
    is_void: bool
    void_reason: str
    voided_by_name: str
    voided_at: datetime | None

    def priced(self) -> PricedLine:
        """Return what the line adds to the totals."""
        return PricedLine(self.net, self.tax_label, self.tax_percent)


def part_line_rows(*, work_order_id: int, shop: ShopFacts) -> tuple[PartLineRow, ...]:
    """Return all part lines of a work order, void ones too, in one query."""
    found = PartLine.objects.of_work_order(work_order_id)
    return tuple(
        part_line_row(line, shop) for line in found.select_related("voided_by")
    )


def part_line(*, line_id: int, viewer: Viewer) -> PartLineRow:
    """Return one part line.

    Raises
    ------
    NotFound
        No such line.
    """
    viewer.demand(Act.SEE_SHOP)
    line = PartLine.objects.select_related("voided_by").filter(pk=line_id).first()
    if line is None:
        raise NotFound("part-line-not-found", "There is no such part line.")
    return part_line_row(line, shop_facts())


def part_line_row(line: PartLine, shop: ShopFacts) -> PartLineRow:
    """Return a line as a row; `voided_by` must have been fetched with it."""
    return PartLineRow(
        id=line.pk,
        work_order_id=line.work_order_id,
        part_id=line.part_id,
        number=line.number,
        description=line.description,
        condition=line.condition,
        condition_label=CONDITION_LABELS[PartCondition(line.condition)],
        unit=line.unit,
        unit_label=UNIT_LABELS[PartUnit(line.unit)],
        quantity=line.quantity,
        quantity_text=plain_number(line.quantity),
        price=shop.to_minor(line.price),
        net=part_net(
            quantity=line.quantity, price=line.price, minor_digits=shop.minor_digits
        ),
        tax_label=line.tax_label,
        tax_percent=line.tax_percent,
        created_at=line.created_at,
        is_void=line.is_void,
        void_reason=line.void_reason,
        voided_by_name=line.voided_by.name if line.voided_by else "",
        voided_at=line.voided_at,
    )


def plain_number(number: Decimal) -> str:
    """Return a number without trailing zeros or exponent."""
    return f"{number.normalize():f}"
