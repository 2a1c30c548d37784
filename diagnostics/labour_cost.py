"""What a minute at the bench costs, for weighing a test against a part."""

from dataclasses import dataclass
from decimal import Decimal

from shop.domain.money import round_money
from shop.selectors.shop_settings import shop_facts

MINUTES_AN_HOUR = 60


@dataclass(frozen=True, kw_only=True)
class LabourCost:
    """The shop's hourly rate; nought where none is set."""

    hourly_rate: Decimal
    currency: str

    def of(self, minutes: float) -> str:
        """Return what minutes cost in words: whole money, or minutes without a rate.

        Examples
        --------
        >>> LabourCost(hourly_rate=Decimal(62), currency="EUR").of(9.8)
        'EUR 10'
        """
        if self.hourly_rate <= 0:
            return f"{max(minutes, 1):.0f} min"
        cost = self.hourly_rate * Decimal(minutes) / MINUTES_AN_HOUR
        return f"{self.currency} {max(round_money(cost, minor_digits=0), Decimal(1))}"


def labour_cost() -> LabourCost:
    """Return what the shop charges for labour now."""
    facts = shop_facts()
    return LabourCost(hourly_rate=facts.hourly_rate, currency=facts.currency)
