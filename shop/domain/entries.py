"""What somebody typed, checked: text, money, quantities, words from a list."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields, replace
from decimal import Decimal
from enum import Enum
from typing import TYPE_CHECKING, TypeVar

from shop.domain.money import ZERO, fits_minor_unit
from shop.domain.refusals import Refusal

MOST_MONEY = Decimal(1_000_000_000)
MOST_QUANTITY = Decimal(100_000)
QUANTITY_PLACES = 3

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

Member = TypeVar("Member", bound=Enum)
Details = TypeVar("Details", bound="DataclassInstance")


@dataclass(frozen=True, slots=True)
class TextRule:
    """What one text field takes.

    Parameters
    ----------
    field : str
        The action's argument, for the refusal.
    name : str
        What the user calls it, at the start of a sentence.
    longest : int
        Most characters.
    required : bool
        Whether it must be filled.
    """

    field: str
    name: str
    longest: int
    required: bool = False

    def clean(self, text: str) -> str:
        """Return the text without space around it and with plain line ends.

        Raises
        ------
        Refusal
            ``text-missing``, ``text-too-long`` or ``text-unreadable``.

        Examples
        --------
        >>> TextRule("name", "The name", 20, required=True).clean("  Ada Fenn ")
        'Ada Fenn'
        """
        tidy = text.replace("\r\n", "\n").replace("\r", "\n").strip()
        if not tidy and self.required:
            raise Refusal("text-missing", f"{self.name} is missing.", self.field)
        if len(tidy) > self.longest:
            raise Refusal(
                "text-too-long",
                f"{self.name} has {len(tidy)} characters; {self.longest} is the most.",
                self.field,
            )
        if any(_is_control(letter) for letter in tidy):
            raise Refusal(
                "text-unreadable",
                f"{self.name} holds a character that cannot be printed; take it out.",
                self.field,
            )
        return tidy


def _is_control(letter: str) -> bool:
    return (letter < " " and letter not in "\n\t") or "\ud800" <= letter <= "\udfff"


def tidied(details: Details, rules: Iterable[TextRule]) -> Details:
    """Return the details with every text cleaned by its rule.

    Raises
    ------
    Refusal
        As `TextRule.clean`.
    """
    texts = {rule.field: rule.clean(getattr(details, rule.field)) for rule in rules}
    return replace(details, **texts)


def altered(details: Details, changes: Mapping[str, object]) -> Details:
    """Return the details with some fields changed.

    Raises
    ------
    TypeError
        Where a change names a field that the details do not have.
    """
    return replace(details, **changes)


def differences(old: Details, new: Details) -> dict[str, tuple[str, str]]:
    """Return old and new text of each field that differs.

    Examples
    --------
    >>> differences(TextRule("a", "A", 5), TextRule("a", "B", 5))
    {'name': ('A', 'B')}
    """
    pairs = (
        (field.name, getattr(old, field.name), getattr(new, field.name))
        for field in fields(old)
    )
    return {
        name: (_shown(before), _shown(after))
        for name, before, after in pairs
        if before != after
    }


def _shown(value: object) -> str:
    return "" if value is None else str(value)


def clean_money(
    amount: Decimal, *, field: str, name: str, minor_digits: int
) -> Decimal:
    """Return an amount that is not negative and no finer than the minor unit.

    Raises
    ------
    Refusal
        ``money-negative``, ``money-too-large`` or ``money-too-fine``.

    Examples
    --------
    >>> clean_money(Decimal("4.5"), field="price", name="The price", minor_digits=2)
    Decimal('4.5')
    """
    if not amount.is_finite() or amount >= MOST_MONEY:
        raise Refusal(
            "money-too-large", f"{name} must be less than {MOST_MONEY:,}.", field
        )
    if amount < ZERO:
        raise Refusal("money-negative", f"{name} cannot be negative.", field)
    if not fits_minor_unit(amount, minor_digits=minor_digits):
        raise Refusal(
            "money-too-fine",
            f"{name} has too many decimal places; the currency has {minor_digits}.",
            field,
        )
    return amount


def clean_quantity(quantity: Decimal, *, whole: bool) -> Decimal:
    """Return a quantity above zero, whole where the unit is counted in pieces.

    Raises
    ------
    Refusal
        ``quantity-not-positive``, ``quantity-too-large``, ``quantity-too-fine``
        or ``quantity-not-whole``.

    Examples
    --------
    >>> clean_quantity(Decimal("2.5"), whole=False)
    Decimal('2.5')
    """
    field = "quantity"
    if not quantity.is_finite() or quantity >= MOST_QUANTITY:
        raise Refusal(
            "quantity-too-large",
            f"The quantity must be less than {MOST_QUANTITY:,}.",
            field,
        )
    if quantity <= ZERO:
        raise Refusal(
            "quantity-not-positive", "The quantity must be more than nothing.", field
        )
    if whole and quantity != quantity.to_integral_value():
        raise Refusal(
            "quantity-not-whole",
            "This part is counted in pieces; enter a whole number.",
            field,
        )
    if not fits_minor_unit(quantity, minor_digits=QUANTITY_PLACES):
        raise Refusal(
            "quantity-too-fine",
            f"The quantity can have {QUANTITY_PLACES} decimal places at most.",
            field,
        )
    return quantity


def clean_member(kind: type[Member], value: object, *, field: str, name: str) -> Member:
    """Return the member of the enum that has this value.

    Raises
    ------
    Refusal
        ``not-in-list``, with what the list holds.
    """
    try:
        return kind(value)
    except ValueError:
        known = ", ".join(str(member.value) for member in kind)
        raise Refusal(
            "not-in-list", f"{name} must be one of: {known}.", field
        ) from None


VOID_REASON = TextRule("reason", "The reason", 200, required=True)
"""Why a line is struck out: everybody who voids one must say it."""
