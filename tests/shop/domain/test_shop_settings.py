"""What can be set about the shop."""

from decimal import Decimal

import pytest

from shop.domain.entries import altered
from shop.domain.refusals import Refusal
from shop.domain.shop_settings import ShopDetails


def details(**changes: object) -> ShopDetails:
    return altered(ShopDetails(name="The Lamp Room"), changes)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"name": ""}, "name"),
        ({"currency": "E1R"}, "currency"),
        ({"currency": "EU"}, "currency"),
        ({"minor_digits": 5}, "minor_digits"),
        ({"tax_rounding": "never"}, "tax_rounding"),
        ({"email": "nowhere"}, "email"),
        ({"time_rounding": "down"}, "time_rounding"),
        ({"time_step_minutes": 7}, "time_step_minutes"),
        ({"time_minimum_minutes": 241}, "time_minimum_minutes"),
        ({"time_minimum_minutes": -1}, "time_minimum_minutes"),
        ({"clock_limit_hours": 0}, "clock_limit_hours"),
        ({"clock_limit_hours": 25}, "clock_limit_hours"),
        ({"hourly_rate": Decimal("1.5"), "minor_digits": 0}, "hourly_rate"),
    ],
)
def test_a_setting_that_makes_no_sense_is_refused(
    changes: dict[str, object], field: str
) -> None:
    with pytest.raises(Refusal) as refused:
        details(**changes).checked()
    assert refused.value.field == field


def test_a_currency_is_written_in_capitals() -> None:
    assert details(currency="gbp").checked().currency == "GBP"
