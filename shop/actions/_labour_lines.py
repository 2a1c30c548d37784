"""A labour line written, whether it was clocked or entered by hand."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from shop.actions.history import Happening, record
from shop.domain.labour import hours_and_minutes
from shop.domain.labour_rates import HourlyRates
from shop.domain.pricing import BILLING_LABELS, Billing
from shop.models import (
    Clock,
    LabourLine,
    LabourRate,
    ShopSettings,
    TaxRate,
    User,
    WorkOrder,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Booking:
    """Everything on a labour line but who booked it and when."""

    order: WorkOrder
    technician: User
    kind: str
    description: str
    done_on: date
    minutes: int
    hourly_rate: Decimal
    tax: TaxRate
    billing: str
    task_id: int | None = None
    clock: Clock | None = None
    entry_reason: str = ""


def write_line(booking: Booking, *, acting_user: User, at: datetime) -> LabourLine:
    """Write the line and its history row."""
    line = LabourLine.objects.create(
        work_order=booking.order,
        technician=booking.technician,
        technician_name=booking.technician.name,
        kind=booking.kind,
        description=booking.description,
        done_on=booking.done_on,
        minutes=booking.minutes,
        hourly_rate=booking.hourly_rate,
        tax_label=booking.tax.label,
        tax_percent=booking.tax.percent,
        created_at=at,
        task_id=booking.task_id,
        clock=booking.clock,
        billing=booking.billing,
        entry_reason=booking.entry_reason,
    )
    record(
        Happening(
            verb="labour.added",
            kind="labour_line",
            subject_id=line.pk,
            work_order_id=booking.order.pk,
            summary=(
                f"{hours_and_minutes(line.minutes)} of {booking.technician.name} "
                f"booked{_borne(line)}: {line.description}"
            ),
            reason=booking.entry_reason,
        ),
        acting_user=acting_user,
        at=at,
    )
    return line


def rate_for(*, technician: User, kind: str, shop: ShopSettings) -> Decimal:
    """Return what an hour of this technician costs for this kind of work, today."""
    kept = {
        rate.technician_id: rate.hourly_rate
        for rate in LabourRate.objects.of_kind(kind).for_person(technician.pk)
    }
    return HourlyRates(
        person_kind=kept.get(technician.pk),
        person=technician.hourly_rate,
        shop_kind=kept.get(None),
        shop=shop.hourly_rate,
    ).holding()


def _borne(line: LabourLine) -> str:
    billing = Billing(line.billing)
    if billing is Billing.BILLABLE:
        return ""
    return f" as {BILLING_LABELS[billing].lower()}"
