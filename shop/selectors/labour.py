"""Labour lines of a work order."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from shop.domain.labour import (
    LABOUR_KIND_LABELS,
    LabourKind,
    hours_and_minutes,
    labour_net,
)
from shop.domain.pricing import BILLING_LABELS, Billing, PricedLine, charged
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer
from shop.models import LabourLine
from shop.selectors.shop_settings import ShopFacts, shop_facts


@dataclass(frozen=True, slots=True, kw_only=True)
class LabourRow:
    """One labour line, priced."""

    id: int
    work_order_id: int
    technician_id: int
    technician_name: str
    kind: str
    kind_label: str
    description: str
    done_on: date
    minutes: int
    time_text: str
    hourly_rate: Decimal
    billing: str
    billing_label: str
    worth: Decimal
    net: Decimal
    tax_label: str
    tax_percent: Decimal
    created_at: datetime
    task_id: int | None
    clock_id: int | None
    entry_reason: str
    is_void: bool
    void_reason: str
    voided_by_name: str
    voided_at: datetime | None

    def priced(self) -> PricedLine:
        """Return what the line adds to the totals."""
        return PricedLine(
            self.net, self.tax_label, self.tax_percent, Billing(self.billing)
        )


def labour_rows(*, work_order_id: int, shop: ShopFacts) -> tuple[LabourRow, ...]:
    """Return all labour lines of a work order, void ones too, in one query."""
    found = LabourLine.objects.of_work_order(work_order_id)
    return tuple(labour_row(line, shop) for line in found.select_related("voided_by"))


def labour_line(*, line_id: int, viewer: Viewer) -> LabourRow:
    """Return one labour line.

    Raises
    ------
    NotFound
        No such line.
    """
    viewer.demand(Act.SEE_SHOP)
    line = LabourLine.objects.select_related("voided_by").filter(pk=line_id).first()
    if line is None:
        raise NotFound("labour-line-not-found", "There is no such labour line.")
    return labour_row(line, shop_facts())


def labour_row(line: LabourLine, shop: ShopFacts) -> LabourRow:
    """Return a line as a row; `voided_by` must have been fetched with it."""
    billing = Billing(line.billing)
    worth = labour_net(
        minutes=line.minutes,
        hourly_rate=line.hourly_rate,
        minor_digits=shop.minor_digits,
    )
    return LabourRow(
        id=line.pk,
        work_order_id=line.work_order_id,
        technician_id=line.technician_id,
        technician_name=line.technician_name,
        kind=line.kind,
        kind_label=LABOUR_KIND_LABELS[LabourKind(line.kind)],
        description=line.description,
        done_on=line.done_on,
        minutes=line.minutes,
        time_text=hours_and_minutes(line.minutes),
        hourly_rate=shop.to_minor(line.hourly_rate),
        billing=billing.value,
        billing_label=BILLING_LABELS[billing],
        worth=worth,
        net=charged(worth, billing, minor_digits=shop.minor_digits),
        tax_label=line.tax_label,
        tax_percent=line.tax_percent,
        created_at=line.created_at,
        task_id=line.task_id,
        clock_id=line.clock_id,
        entry_reason=line.entry_reason,
        is_void=line.is_void,
        void_reason=line.void_reason,
        voided_by_name=line.voided_by.name if line.voided_by else "",
        voided_at=line.voided_at,
    )
