"""What minutes at the bench cost, in words."""

from decimal import Decimal

import pytest

from diagnostics.labour_cost import LabourCost, labour_cost
from shop.models import ShopSettings


@pytest.mark.parametrize(
    ("rate", "minutes", "words"),
    [
        ("60", 12.0, "EUR 12"),
        ("62", 9.8, "EUR 10"),
        ("60", 0.2, "EUR 1"),
        ("0", 9.8, "10 min"),
        ("0", 0.2, "1 min"),
    ],
)
def test_minutes_are_money_where_there_is_a_rate(
    rate: str, minutes: float, words: str
) -> None:
    cost = LabourCost(hourly_rate=Decimal(rate), currency="EUR")
    assert cost.of(minutes) == words


@pytest.mark.django_db
def test_the_rate_is_the_shops() -> None:
    assert labour_cost().hourly_rate == 0
    ShopSettings.objects.create(hourly_rate=Decimal("54.50"), currency="SEK")
    cost = labour_cost()
    assert (cost.hourly_rate, cost.currency) == (Decimal("54.50"), "SEK")
