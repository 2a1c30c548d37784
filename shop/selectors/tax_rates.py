"""Tax rates to choose from."""

from dataclasses import dataclass
from decimal import Decimal

from shop.models import TaxRate


@dataclass(frozen=True, slots=True, kw_only=True)
class TaxRateRow:
    """A rate and its name."""

    id: int
    label: str
    percent: Decimal
    is_retired: bool


def tax_rates_in_use() -> tuple[TaxRateRow, ...]:
    """Return the rates that new lines may take, the highest first."""
    return tuple(_row(rate) for rate in TaxRate.objects.in_use().highest_first())


def every_tax_rate() -> tuple[TaxRateRow, ...]:
    """Return all rates, retired ones too."""
    return tuple(_row(rate) for rate in TaxRate.objects.highest_first())


def _row(rate: TaxRate) -> TaxRateRow:
    return TaxRateRow(
        id=rate.pk,
        label=rate.label,
        percent=rate.percent,
        is_retired=rate.is_retired,
    )
