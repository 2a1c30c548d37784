"""Labour: whole minutes at a frozen hourly rate."""

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from enum import StrEnum

from shop.domain.entries import TextRule, clean_member, clean_money, tidied
from shop.domain.money import round_money
from shop.domain.pricing import Billing
from shop.domain.refusals import Refusal

MINUTES_AN_HOUR = 60
MAX_MINUTES = 24 * 60


class LabourKind(StrEnum):
    """What sort of work a labour line was."""

    FAULT_FINDING = "fault_finding"
    REPAIR = "repair"
    RESTORATION = "restoration"
    SERVICE = "service"
    CHECK = "check"


LABOUR_KIND_LABELS: dict[LabourKind, str] = {
    LabourKind.FAULT_FINDING: "Fault finding",
    LabourKind.REPAIR: "Repair",
    LabourKind.RESTORATION: "Restoration",
    LabourKind.SERVICE: "Service",
    LabourKind.CHECK: "Check and road test",
}


def labour_net(*, minutes: int, hourly_rate: Decimal, minor_digits: int = 2) -> Decimal:
    """Return what the minutes cost, rounded to the minor unit.

    Examples
    --------
    >>> labour_net(minutes=50, hourly_rate=Decimal("54.00"))
    Decimal('45.00')
    """
    if minutes < 0:
        raise ValueError(f"minutes cannot be negative: {minutes}")
    return round_money(
        Decimal(minutes) * hourly_rate / MINUTES_AN_HOUR, minor_digits=minor_digits
    )


def hours_and_minutes(minutes: int) -> str:
    """Return the time as hours and minutes.

    Examples
    --------
    >>> hours_and_minutes(95), hours_and_minutes(40), hours_and_minutes(120)
    ('1 h 35 min', '40 min', '2 h')
    """
    hours, rest = divmod(minutes, MINUTES_AN_HOUR)
    parts = []
    if hours:
        parts.append(f"{hours} h")
    if rest or not hours:
        parts.append(f"{rest} min")
    return " ".join(parts)


_DESCRIPTION = TextRule("description", "What was done", 400, required=True)
ENTRY_REASON = TextRule("reason", "Why it was not clocked", 200, required=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class LabourEntry:
    """What can be entered on a labour line.

    Parameters
    ----------
    minutes : int
        Whole minutes, one day at most.
    reason : str
        Why it is entered by hand instead of having been clocked.
    done_on : date or None
        The day of the work; None means today where the shop is.
    technician_id : int or None
        Who worked; None means the acting user.
    hourly_rate : Decimal or None
        None means the technician's own rate, else the shop's.
    tax_rate_id : int or None
        None means the shop's default rate.
    task_id : int or None
        The task of the work order that it went into, where there is one.
    billing : str
        Who bears it: the customer, the shop's goodwill, or a warranty.
    """

    kind: str
    minutes: int
    description: str
    reason: str
    done_on: date | None = None
    technician_id: int | None = None
    hourly_rate: Decimal | None = None
    tax_rate_id: int | None = None
    task_id: int | None = None
    billing: str = Billing.BILLABLE

    def checked(self, *, minor_digits: int) -> "LabourEntry":
        """Return the entry tidied.

        Raises
        ------
        Refusal
            ``minutes-out-of-range`` and those of the other fields.

        Examples
        --------
        >>> entry = LabourEntry(
        ...     kind="repair", minutes=30, description=" New plug ", reason="no phone"
        ... )
        >>> entry.checked(minor_digits=2).description
        'New plug'
        """
        if not 1 <= self.minutes <= MAX_MINUTES:
            raise Refusal(
                "minutes-out-of-range",
                f"Minutes must be between 1 and {MAX_MINUTES}; "
                "enter each day of the work on its own line.",
                "minutes",
            )
        rate = self.hourly_rate
        if rate is not None:
            rate = clean_money(
                rate,
                field="hourly_rate",
                name="The hourly rate",
                minor_digits=minor_digits,
            )
        kind = clean_member(
            LabourKind, self.kind, field="kind", name="The kind of work"
        )
        billing = clean_member(
            Billing, self.billing, field="billing", name="Who bears the work"
        )
        return replace(
            tidied(self, (_DESCRIPTION, ENTRY_REASON)),
            kind=kind.value,
            hourly_rate=rate,
            billing=billing.value,
        )
