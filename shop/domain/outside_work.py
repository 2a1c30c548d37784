"""Work done for the shop by others: where it stands, and what the customer pays."""

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from enum import StrEnum

from shop.domain.entries import TextRule, clean_member, clean_money, tidied
from shop.domain.money import HUNDRED, ZERO, round_money
from shop.domain.refusals import IllegalMove, Refusal
from shop.domain.suppliers import Trade, clean_markup

FIRST_NUMBER = 101
MOST_TAGS = 200


class OutsideState(StrEnum):
    """Where a piece of outside work stands."""

    PLANNED = "planned"
    AWAY = "away"
    BACK = "back"
    DROPPED = "dropped"


OUTSIDE_STATE_LABELS: dict[OutsideState, str] = {
    OutsideState.PLANNED: "Planned",
    OutsideState.AWAY: "Away",
    OutsideState.BACK: "Back",
    OutsideState.DROPPED: "Dropped",
}


class OutsideEvent(StrEnum):
    """What can happen to a piece of outside work."""

    SEND = "send"
    BRING_BACK = "bring_back"
    SEND_AGAIN = "send_again"
    DROP = "drop"


OUTSIDE_EVENT_LABELS: dict[OutsideEvent, str] = {
    OutsideEvent.SEND: "Send it out",
    OutsideEvent.BRING_BACK: "Book it back",
    OutsideEvent.SEND_AGAIN: "Send it again",
    OutsideEvent.DROP: "Drop it",
}

OUTSIDE_MOVES: dict[tuple[OutsideState, OutsideEvent], OutsideState] = {
    (OutsideState.PLANNED, OutsideEvent.SEND): OutsideState.AWAY,
    (OutsideState.PLANNED, OutsideEvent.DROP): OutsideState.DROPPED,
    (OutsideState.AWAY, OutsideEvent.BRING_BACK): OutsideState.BACK,
    (OutsideState.BACK, OutsideEvent.SEND_AGAIN): OutsideState.AWAY,
}


class CheckResult(StrEnum):
    """What the check of one tag said when it came back."""

    GOOD = "good"
    NOT_GOOD = "not_good"
    LOST = "lost"
    STILL_AWAY = "still_away"


CHECK_RESULT_LABELS: dict[CheckResult, str] = {
    CheckResult.GOOD: "Back and good",
    CheckResult.NOT_GOOD: "Back, but not good",
    CheckResult.LOST: "Lost or spoiled",
    CheckResult.STILL_AWAY: "Still away",
}

DESCRIPTION = TextRule("description", "What is to be done", 200, required=True)
REASON = TextRule("reason", "The reason", 200, required=True)
_RULES = (DESCRIPTION, TextRule("notes", "The note", 5000))
_NOTE = TextRule("note", "The note on the check", 200)


@dataclass(frozen=True, slots=True, kw_only=True)
class OutsideDetails:
    """What can be entered about a piece of outside work; amounts without tax.

    Parameters
    ----------
    description : str
        What is to be done, in words that the customer reads on paper.
    quote_amount : Decimal or None
        What the supplier asks beforehand.
    cost_amount : Decimal or None
        What the supplier's bill said.
    markup_percent : Decimal
        What the shop adds.
    """

    supplier_id: int
    trade: str
    description: str
    promised_on: date | None = None
    quote_amount: Decimal | None = None
    cost_amount: Decimal | None = None
    markup_percent: Decimal = ZERO
    notes: str = ""

    def checked(self, *, minor_digits: int) -> "OutsideDetails":
        """Return the details tidied.

        Raises
        ------
        Refusal
            Where one is missing, too long, unknown, or an amount is no amount.
        """
        return replace(
            tidied(self, _RULES),
            trade=clean_member(
                Trade, self.trade, field="trade", name="The trade"
            ).value,
            quote_amount=_amount(
                self.quote_amount, "quote_amount", "The quote", minor_digits
            ),
            cost_amount=_amount(
                self.cost_amount, "cost_amount", "The cost", minor_digits
            ),
            markup_percent=clean_markup(self.markup_percent),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class TagCheck:
    """What was found when one tag came back.

    Parameters
    ----------
    consent_by_name : str
        With a lost tag: who on the customer's side was told and agreed.
    """

    tag_id: int
    result: str
    note: str = ""
    shelf: str = ""
    consent_by_name: str = ""

    def checked(self) -> "TagCheck":
        """Return the check tidied, or refuse it."""
        result = clean_member(
            CheckResult, self.result, field="result", name="The result"
        )
        note = _NOTE.clean(self.note)
        if result in {CheckResult.NOT_GOOD, CheckResult.LOST} and not note:
            raise Refusal(
                "check-note-missing",
                "Say what is wrong with a part that did not come back good.",
                "note",
            )
        return replace(self, result=result.value, note=note)


def next_outside_state(state: OutsideState, event: OutsideEvent) -> OutsideState:
    """Return where the event leads.

    Raises
    ------
    IllegalMove
        Where the table has no such move.

    Examples
    --------
    >>> next_outside_state(OutsideState.PLANNED, OutsideEvent.SEND).value
    'away'
    """
    target = OUTSIDE_MOVES.get((state, event))
    if target is None:
        raise IllegalMove(
            "illegal-move",
            f"“{OUTSIDE_EVENT_LABELS[event]}” is not possible while it is "
            f"{OUTSIDE_STATE_LABELS[state].lower()}.",
        )
    return target


def outside_net(
    *,
    quote: Decimal | None,
    cost: Decimal | None,
    markup_percent: Decimal,
    minor_digits: int = 2,
) -> Decimal:
    """Return what the customer pays: the bill, else the quote, and the mark-up on it.

    Examples
    --------
    >>> outside_net(
    ...     quote=Decimal("80.00"), cost=Decimal("86.50"), markup_percent=Decimal(15)
    ... )
    Decimal('99.48')
    """
    base = next((amount for amount in (cost, quote) if amount is not None), ZERO)
    return round_money(
        base * (HUNDRED + markup_percent) / HUNDRED, minor_digits=minor_digits
    )


def is_overdue(state: OutsideState, promised_on: date | None, *, today: date) -> bool:
    """Say whether it should have been back before today.

    Examples
    --------
    >>> is_overdue(OutsideState.AWAY, date(2026, 3, 1), today=date(2026, 3, 2))
    True
    >>> is_overdue(OutsideState.AWAY, date(2026, 3, 2), today=date(2026, 3, 2))
    False
    """
    return (
        state is OutsideState.AWAY and promised_on is not None and promised_on < today
    )


def outside_label(number: int) -> str:
    """Return the number as people say and print it.

    Examples
    --------
    >>> outside_label(101)
    'OW-101'
    """
    return f"OW-{number}"


def _amount(
    amount: Decimal | None, field: str, name: str, minor_digits: int
) -> Decimal | None:
    if amount is None:
        return None
    return clean_money(amount, field=field, name=name, minor_digits=minor_digits)
