"""The shop's settings, as every page and paper needs them."""

from dataclasses import dataclass
from decimal import Decimal

from shop.domain.clocks import RoundingRule, TimeRounding
from shop.domain.money import round_money
from shop.domain.pricing import TaxRounding
from shop.models import ShopSettings


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopFacts:
    """Name, money, tax and time of the shop."""

    name: str
    address: str
    phone: str
    email: str
    tax_number: str
    currency: str
    minor_digits: int
    tax_rounding: TaxRounding
    default_tax_rate_id: int | None
    hourly_rate: Decimal
    time_zone: str
    invoice_notes: str
    time_rounding: TimeRounding
    time_step_minutes: int
    time_minimum_minutes: int
    clock_limit_hours: int

    def to_minor(self, amount: Decimal) -> Decimal:
        """Return a stored amount with the currency's decimal places."""
        return round_money(amount, minor_digits=self.minor_digits)

    def time_rule(self) -> RoundingRule:
        """Return how worked time becomes booked minutes."""
        return RoundingRule(
            how=self.time_rounding,
            step_minutes=self.time_step_minutes,
            minimum_minutes=self.time_minimum_minutes,
        )


def shop_facts() -> ShopFacts:
    """Return the shop's settings; its defaults until somebody has saved any."""
    row = ShopSettings.objects.current()
    return ShopFacts(
        name=row.name,
        address=row.address,
        phone=row.phone,
        email=row.email,
        tax_number=row.tax_number,
        currency=row.currency,
        minor_digits=row.minor_digits,
        tax_rounding=TaxRounding(row.tax_rounding),
        default_tax_rate_id=row.default_tax_rate_id,
        hourly_rate=round_money(row.hourly_rate, minor_digits=row.minor_digits),
        time_zone=row.time_zone,
        invoice_notes=row.invoice_notes,
        time_rounding=TimeRounding(row.time_rounding),
        time_step_minutes=row.time_step_minutes,
        time_minimum_minutes=row.time_minimum_minutes,
        clock_limit_hours=row.clock_limit_hours,
    )
