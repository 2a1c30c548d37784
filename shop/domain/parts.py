"""Words for parts: in what state they come and by what unit they are counted."""

from enum import StrEnum


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
