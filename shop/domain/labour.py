"""Labour: whole minutes at a frozen hourly rate."""

from decimal import Decimal
from enum import StrEnum

from shop.domain.money import round_money

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
