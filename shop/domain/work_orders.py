"""What is written on a work order: at the counter, later, and with each move."""

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from shop.domain.entries import TextRule, clean_member, clean_money, tidied
from shop.domain.holds import HoldReason

COMPLAINT = TextRule("complaint", "The complaint", 5000, required=True)
_INTAKE_RULES = (
    TextRule("intake_notes", "The note on arrival", 5000),
    TextRule("approved_by_name", "The name of who agreed", 120),
    TextRule("approved_how", "How it was agreed", 120),
)
_TEXT_RULES = (
    COMPLAINT,
    TextRule("intake_notes", "The note on arrival", 5000),
    TextRule("work_done", "What was done", 10000),
)
_PARTICULARS_RULES = (
    TextRule("reason", "The reason", 200),
    TextRule("estimate_note", "The note on the estimate", 5000),
    TextRule("approved_by_name", "The name of who agreed", 120),
    TextRule("approved_how", "How it was agreed", 120),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Intake:
    """What may be noted beside the complaint when a bike is booked in.

    Parameters
    ----------
    approved_amount : Decimal or None
        What the customer agreed to spend at the counter, tax included; with it,
        work may start without an estimate.
    """

    intake_notes: str = ""
    promised_on: date | None = None
    technician_id: int | None = None
    approved_amount: Decimal | None = None
    approved_by_name: str = ""
    approved_how: str = ""

    def checked(self, *, minor_digits: int) -> "Intake":
        """Return the intake tidied, or refuse it."""
        return replace(
            tidied(self, _INTAKE_RULES),
            approved_amount=_amount(
                self.approved_amount,
                "approved_amount",
                "The agreed amount",
                minor_digits,
            ),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkOrderText:
    """What may be corrected or filled in while a work order is open."""

    complaint: str
    intake_notes: str = ""
    work_done: str = ""
    promised_on: date | None = None
    technician_id: int | None = None

    def checked(self) -> "WorkOrderText":
        """Return the words tidied, or refuse them."""
        return tidied(self, _TEXT_RULES)


@dataclass(frozen=True, slots=True, kw_only=True)
class Particulars:
    """What goes with a move: why, what the estimate says, who agreed to how much.

    Parameters
    ----------
    hold_kind, expected_on : str, date or None
        What sort of thing a bike put on hold waits for, and when it should be over;
        the reason says what exactly.
    """

    reason: str = ""
    estimate_amount: Decimal | None = None
    estimate_note: str = ""
    approved_amount: Decimal | None = None
    approved_by_name: str = ""
    approved_how: str = ""
    hold_kind: str = HoldReason.PARTS.value
    expected_on: date | None = None

    def checked(self, *, minor_digits: int) -> "Particulars":
        """Return the particulars tidied, or refuse them."""
        kind = clean_member(
            HoldReason, self.hold_kind, field="hold_kind", name="The kind of hold"
        )
        return replace(
            tidied(self, _PARTICULARS_RULES),
            hold_kind=kind.value,
            estimate_amount=_amount(
                self.estimate_amount, "estimate_amount", "The estimate", minor_digits
            ),
            approved_amount=_amount(
                self.approved_amount,
                "approved_amount",
                "The agreed amount",
                minor_digits,
            ),
        )


def _amount(
    amount: Decimal | None, field: str, name: str, minor_digits: int
) -> Decimal | None:
    if amount is None:
        return None
    return clean_money(amount, field=field, name=name, minor_digits=minor_digits)
