"""Words for parts: in what state they come and by what unit they are counted."""

from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum

from shop.domain.entries import TextRule, clean_member, clean_money, tidied


class PartCondition(StrEnum):
    """In what state a part is sold."""

    NEW = "new"
    NEW_OLD_STOCK = "new_old_stock"
    USED = "used"
    RECONDITIONED = "reconditioned"
    REPRODUCTION = "reproduction"


CONDITION_LABELS: dict[PartCondition, str] = {
    PartCondition.NEW: "New",
    PartCondition.NEW_OLD_STOCK: "New old stock",
    PartCondition.USED: "Used",
    PartCondition.RECONDITIONED: "Reconditioned",
    PartCondition.REPRODUCTION: "Reproduction",
}


class PartUnit(StrEnum):
    """By what unit a part is counted and priced."""

    EACH = "each"
    PAIR = "pair"
    SET = "set"
    METRE = "metre"
    LITRE = "litre"
    GRAM = "gram"


UNIT_LABELS: dict[PartUnit, str] = {
    PartUnit.EACH: "each",
    PartUnit.PAIR: "pair",
    PartUnit.SET: "set",
    PartUnit.METRE: "m",
    PartUnit.LITRE: "l",
    PartUnit.GRAM: "g",
}

WHOLE_UNITS = frozenset({PartUnit.EACH, PartUnit.PAIR, PartUnit.SET})

_RULES = (
    TextRule("number", "The part number", 60, required=True),
    TextRule("description", "The description", 200, required=True),
    TextRule("bin", "The bin", 40),
    TextRule("notes", "The note", 5000),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PartDetails:
    """What can be entered about a part on the parts list.

    Parameters
    ----------
    price : Decimal
        For one unit, without tax, in the currency's major unit.
    tax_rate_id : int
        The tax rate that new part lines copy.
    """

    number: str
    description: str
    price: Decimal
    tax_rate_id: int
    condition: str = PartCondition.NEW
    unit: str = PartUnit.EACH
    bin: str = ""
    notes: str = ""
    is_retired: bool = False

    def checked(self, *, minor_digits: int) -> "PartDetails":
        """Return the details tidied.

        Raises
        ------
        Refusal
            Where one is missing, too long, unknown, or the price is no price.
        """
        return replace(
            tidied(self, _RULES),
            price=clean_money(
                self.price, field="price", name="The price", minor_digits=minor_digits
            ),
            condition=clean_member(
                PartCondition, self.condition, field="condition", name="The condition"
            ).value,
            unit=clean_member(PartUnit, self.unit, field="unit", name="The unit").value,
        )
