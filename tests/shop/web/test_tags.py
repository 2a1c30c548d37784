from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

from django.utils import timezone

from shop.web import tags


def test_money_carries_its_currency_and_its_own_places() -> None:
    assert tags.money(Decimal("1250.5"), "EUR") == "€1,250.50"
    assert tags.money(Decimal(1250), "JPY") == "JP¥1,250"
    assert tags.money(None, "EUR") == ""


def test_quantities_rates_and_times_are_short() -> None:
    assert tags.quantity(Decimal("2.500")) == "2.5"
    assert tags.percent(Decimal("7.700")) == "7.7 %"
    assert tags.plain("technician_id") == "technician"
    assert tags.hours(95) == "1 h 35 min"
    assert tags.whole_minutes(timedelta(minutes=15)) == 15


def test_moments_are_shown_where_the_shop_is() -> None:
    late = datetime(2026, 3, 28, 23, 30, tzinfo=UTC)
    with timezone.override(ZoneInfo("Europe/Lisbon")):
        assert tags.when(late) == "28 Mar 2026, 23:30"
        assert tags.day(late) == "28 Mar 2026"
    with timezone.override(ZoneInfo("Europe/Warsaw")):
        assert tags.day(late) == "29 Mar 2026"
    assert tags.day(date(2026, 3, 2)) == "2 Mar 2026"
