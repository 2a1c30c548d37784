"""What a work order comes to."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from shop.domain.money import ZERO
from shop.domain.pricing import Billing, total
from shop.selectors.labour import LabourRow, labour_rows
from shop.selectors.outside_work import OutsideRow, outside_rows
from shop.selectors.part_lines import PartLineRow, part_line_rows
from shop.selectors.shop_settings import ShopFacts, shop_facts


@dataclass(frozen=True, slots=True, kw_only=True)
class RateRow:
    """What the lines of one tax rate come to."""

    label: str
    percent: Decimal
    net: Decimal
    tax: Decimal
    gross: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkOrderTotals:
    """Sums of a work order's standing lines, in the currency's major unit."""

    currency: str
    minor_digits: int
    labour_minutes: int
    labour_net: Decimal
    goodwill_worth: Decimal
    warranty_worth: Decimal
    parts_net: Decimal
    outside_net: Decimal
    rates: tuple[RateRow, ...]
    net: Decimal
    tax: Decimal
    gross: Decimal


def work_order_totals(*, work_order_id: int) -> WorkOrderTotals:
    """Return the sums of a work order, in four queries."""
    shop = shop_facts()
    return totals_of(
        labour=labour_rows(work_order_id=work_order_id, shop=shop),
        parts=part_line_rows(work_order_id=work_order_id, shop=shop),
        outside=outside_rows(work_order_id=work_order_id, shop=shop),
        shop=shop,
    )


def totals_of(
    *,
    labour: Sequence[LabourRow],
    parts: Sequence[PartLineRow],
    outside: Sequence[OutsideRow],
    shop: ShopFacts,
) -> WorkOrderTotals:
    """Return the sums of rows at hand; void ones do not count."""
    hours = [row for row in labour if not row.is_void]
    pieces = [row for row in parts if not row.is_void]
    others = [row for row in outside if not row.is_dropped]
    sums = total(
        [row.priced() for row in hours]
        + [row.priced() for row in pieces]
        + [row.priced() for row in others],
        rounding=shop.tax_rounding,
        minor_digits=shop.minor_digits,
    )
    return WorkOrderTotals(
        currency=shop.currency,
        minor_digits=shop.minor_digits,
        labour_minutes=sum(row.minutes for row in hours),
        labour_net=shop.to_minor(sum((row.net for row in hours), start=ZERO)),
        goodwill_worth=_worth(hours, Billing.GOODWILL, shop),
        warranty_worth=_worth(hours, Billing.WARRANTY, shop),
        parts_net=shop.to_minor(sum((row.net for row in pieces), start=ZERO)),
        outside_net=shop.to_minor(sum((row.net for row in others), start=ZERO)),
        rates=tuple(
            RateRow(
                label=rate.label,
                percent=rate.percent,
                net=rate.amount.net,
                tax=rate.amount.tax,
                gross=rate.amount.gross,
            )
            for rate in sums.rates
        ),
        net=sums.amount.net,
        tax=sums.amount.tax,
        gross=sums.amount.gross,
    )


def _worth(rows: Sequence[LabourRow], billing: Billing, shop: ShopFacts) -> Decimal:
    borne = (row.worth for row in rows if row.billing == billing.value)
    return shop.to_minor(sum(borne, start=ZERO))
