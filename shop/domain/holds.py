"""Holds: what a work order or one of its tasks waits for, and since when."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum

from shop.domain.entries import TextRule, clean_member, tidied
from shop.domain.roles import Act

LONGEST_SUMMARY = 200


class HoldReason(StrEnum):
    """What is waited for."""

    PARTS = "parts"
    OUTSIDE_WORK = "outside_work"
    CUSTOMER = "customer"
    APPROVAL = "approval"


HOLD_LABELS: dict[HoldReason, str] = {
    HoldReason.PARTS: "Parts",
    HoldReason.OUTSIDE_WORK: "Outside work",
    HoldReason.CUSTOMER: "Customer",
    HoldReason.APPROVAL: "Approval",
}

# Whether the customer agreed is not for the bench to say.
RELEASE_ACTS: dict[HoldReason, Act] = {
    HoldReason.PARTS: Act.KEEP_HOLDS,
    HoldReason.OUTSIDE_WORK: Act.KEEP_HOLDS,
    HoldReason.CUSTOMER: Act.KEEP_HOLDS,
    HoldReason.APPROVAL: Act.RECORD_APPROVAL,
}

RELEASE_NOTE = TextRule("note", "The note", 200)
_RULES = (TextRule("detail", "What is waited for", 200, required=True),)


@dataclass(frozen=True, slots=True, kw_only=True)
class HoldDetails:
    """What is entered when something is put on hold.

    Parameters
    ----------
    kind : str
        A `HoldReason`.
    detail : str
        What exactly is waited for.
    expected_on : date or None
        When it should be over.
    task_id : int or None
        The one task that waits; None where the whole bike does.
    """

    kind: str
    detail: str
    expected_on: date | None = None
    task_id: int | None = None

    def checked(self) -> "HoldDetails":
        """Return the details tidied, or refuse them."""
        kind = clean_member(
            HoldReason, self.kind, field="kind", name="The kind of hold"
        )
        return replace(tidied(self, _RULES), kind=kind.value)


def waiting_summary(details: Iterable[str]) -> str:
    """Return what is waited for in one line that a list can show.

    Examples
    --------
    >>> waiting_summary(["a rotor", "the tank from the painter"])
    'a rotor; the tank from the painter'
    """
    told = "; ".join(details)
    return told if len(told) <= LONGEST_SUMMARY else f"{told[: LONGEST_SUMMARY - 1]}…"
