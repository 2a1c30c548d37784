"""Tax rates to choose from."""

from decimal import Decimal

import pytest

from shop.selectors.tax_rates import every_tax_rate, tax_rates_in_use
from tests.builders import TaxRateFactory

pytestmark = pytest.mark.django_db


def test_a_retired_rate_is_not_offered_but_still_known() -> None:
    TaxRateFactory(label="Reduced", percent=Decimal("5.5"))
    TaxRateFactory(label="Standard", percent=Decimal(20))
    TaxRateFactory(label="Former", percent=Decimal(19), is_retired=True)
    assert [rate.label for rate in tax_rates_in_use()] == ["Standard", "Reduced"]
    assert [rate.label for rate in every_tax_rate()] == [
        "Standard",
        "Former",
        "Reduced",
    ]
