"""The shop's settings are there before anybody has saved any."""

from decimal import Decimal

import pytest

from shop.domain.pricing import TaxRounding
from shop.models import ShopSettings
from shop.selectors.shop_settings import shop_facts
from tests.builders import ShopSettingsFactory

pytestmark = pytest.mark.django_db


def test_a_new_shop_has_plain_settings_and_no_row() -> None:
    shop = shop_facts()
    assert (shop.currency, shop.minor_digits) == ("EUR", 2)
    assert shop.tax_rounding is TaxRounding.PER_RATE
    assert not ShopSettings.objects.exists()


def test_saved_settings_are_read() -> None:
    ShopSettingsFactory(currency="KWD", minor_digits=3, hourly_rate=Decimal("7.5"))
    shop = shop_facts()
    assert str(shop.hourly_rate) == "7.500"
    assert str(shop.to_minor(Decimal("1.0005"))) == "1.001"
