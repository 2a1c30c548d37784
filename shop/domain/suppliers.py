"""Who does work for the shop outside it, or sells it parts."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum

from shop.domain.customers import check_email
from shop.domain.entries import TextRule, clean_member, tidied
from shop.domain.money import HUNDRED, ZERO, fits_minor_unit
from shop.domain.refusals import Refusal

LONGEST_LEAD_DAYS = 730
MOST_MARKUP = HUNDRED * 5
MARKUP_PLACES = 2


class Trade(StrEnum):
    """What a supplier can be asked for."""

    PLATING = "plating"
    MACHINING = "machining"
    PAINT = "paint"
    UPHOLSTERY = "upholstery"
    BLASTING = "blasting"
    WELDING = "welding"
    WHEEL_BUILDING = "wheel_building"
    REWINDING = "rewinding"
    INSTRUMENTS = "instruments"
    PARTS = "parts"
    OTHER = "other"


TRADE_LABELS: dict[Trade, str] = {
    Trade.PLATING: "Plating and polishing",
    Trade.MACHINING: "Machining",
    Trade.PAINT: "Paint",
    Trade.UPHOLSTERY: "Upholstery",
    Trade.BLASTING: "Blasting and cleaning",
    Trade.WELDING: "Welding and casting repair",
    Trade.WHEEL_BUILDING: "Wheel building",
    Trade.REWINDING: "Rewinding",
    Trade.INSTRUMENTS: "Instruments",
    Trade.PARTS: "Parts",
    Trade.OTHER: "Other",
}

_RULES = (
    TextRule("name", "The name", 120, required=True),
    TextRule("contact", "The person to ask for", 120),
    TextRule("phone", "The phone number", 40),
    TextRule("email", "The mail address", 254),
    TextRule("address", "The address", 500),
    TextRule("notes", "The note", 5000),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplierDetails:
    """What can be entered about a supplier.

    Parameters
    ----------
    trades : tuple of str
        What the supplier can be asked for.
    lead_days : int or None
        How many days an order usually takes; None where nobody knows yet.
    markup_percent : Decimal
        What the shop usually adds to this supplier's price.
    """

    name: str
    contact: str = ""
    phone: str = ""
    email: str = ""
    address: str = ""
    trades: tuple[str, ...] = ()
    lead_days: int | None = None
    markup_percent: Decimal = ZERO
    notes: str = ""
    is_retired: bool = False

    def checked(self) -> "SupplierDetails":
        """Return the details tidied.

        Raises
        ------
        Refusal
            Where one is missing, too long or no trade, mail address or lead time.

        Examples
        --------
        >>> SupplierDetails(name=" Oxbow Platers ", trades=("paint", "plating"))\
        .checked().trades
        ('plating', 'paint')
        """
        tidy = tidied(self, _RULES)
        if tidy.email:
            check_email(tidy.email)
        if tidy.lead_days is not None and not 0 <= tidy.lead_days <= LONGEST_LEAD_DAYS:
            raise Refusal(
                "lead-days-out-of-range",
                f"A lead time has 0 to {LONGEST_LEAD_DAYS} days.",
                "lead_days",
            )
        return replace(
            tidy,
            trades=_in_order(tidy.trades),
            markup_percent=clean_markup(tidy.markup_percent),
        )


def clean_markup(percent: Decimal) -> Decimal:
    """Return a mark-up that is not negative and not absurd.

    Raises
    ------
    Refusal
        ``markup-out-of-range`` or ``markup-too-fine``.

    Examples
    --------
    >>> clean_markup(Decimal("12.5"))
    Decimal('12.5')
    """
    if not percent.is_finite() or not ZERO <= percent <= MOST_MARKUP:
        raise Refusal(
            "markup-out-of-range",
            f"A mark-up has 0 to {MOST_MARKUP} per cent.",
            "markup_percent",
        )
    if not fits_minor_unit(percent, minor_digits=MARKUP_PLACES):
        raise Refusal(
            "markup-too-fine",
            f"A mark-up can have {MARKUP_PLACES} decimal places at most.",
            "markup_percent",
        )
    return percent


def _in_order(trades: Iterable[str]) -> tuple[str, ...]:
    chosen = {
        clean_member(Trade, trade, field="trades", name="A trade") for trade in trades
    }
    return tuple(trade.value for trade in Trade if trade in chosen)
