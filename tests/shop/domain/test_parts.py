"""What can be entered about a part."""

from decimal import Decimal

import pytest

from shop.domain.entries import altered
from shop.domain.parts import (
    CONDITION_LABELS,
    UNIT_LABELS,
    PartCondition,
    PartDetails,
    PartUnit,
)
from shop.domain.refusals import Refusal


def details(**changes: object) -> PartDetails:
    return altered(
        PartDetails(
            number="EL-0012",
            description="Bulb holder, rear",
            price=Decimal("12.40"),
            tax_rate_id=1,
        ),
        changes,
    )


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"number": ""}, "number"),
        ({"description": " "}, "description"),
        ({"price": Decimal("0.125")}, "price"),
        ({"price": Decimal(-1)}, "price"),
        ({"condition": "mint"}, "condition"),
        ({"unit": "dozen"}, "unit"),
    ],
)
def test_a_part_that_cannot_stand_on_the_list_is_refused(
    changes: dict[str, object], field: str
) -> None:
    with pytest.raises(Refusal) as refused:
        details(**changes).checked(minor_digits=2)
    assert refused.value.field == field


@pytest.mark.parametrize("condition", list(PartCondition))
def test_every_condition_of_the_trade_is_known(condition: PartCondition) -> None:
    found = details(condition=condition.value).checked(minor_digits=2)
    assert CONDITION_LABELS[PartCondition(found.condition)]


def test_every_unit_has_its_sign() -> None:
    assert set(UNIT_LABELS) == set(PartUnit)
