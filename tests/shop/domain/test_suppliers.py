"""What the shop writes down about a supplier."""

from decimal import Decimal

import pytest

from shop.domain.refusals import Refusal
from shop.domain.suppliers import SupplierDetails, clean_markup


def test_trades_are_kept_once_and_in_the_order_of_the_list() -> None:
    tidy = SupplierDetails(
        name="Oxbow Platers", trades=("paint", "plating", "paint")
    ).checked()
    assert tidy.trades == ("plating", "paint")


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"name": " "}, "name"),
        ({"email": "nobody"}, "email"),
        ({"trades": ("alchemy",)}, "trades"),
        ({"lead_days": -1}, "lead_days"),
        ({"lead_days": 10_000}, "lead_days"),
        ({"markup_percent": Decimal(-1)}, "markup_percent"),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(
    wrong: dict[str, object], field: str
) -> None:
    details = {"name": "Oxbow Platers", **wrong}
    with pytest.raises(Refusal) as refused:
        SupplierDetails(**details).checked()  # type: ignore[arg-type]  # wrong on purpose
    assert refused.value.field == field


@pytest.mark.parametrize("percent", ["NaN", "500.01", "-0.01", "1.234"])
def test_a_mark_up_that_is_none_is_refused(percent: str) -> None:
    with pytest.raises(Refusal):
        clean_markup(Decimal(percent))
