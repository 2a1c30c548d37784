"""Amounts, times and quantities in the words of the shop's locale."""

from datetime import date, datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

from babel.dates import format_date, format_datetime
from babel.numbers import format_currency, format_decimal, format_percent

from shop.domain.money import HUNDRED


def money(amount: Decimal, *, currency: str, locale: str) -> str:
    """Print an amount with its currency.

    Examples
    --------
    >>> money(Decimal("1234.50"), currency="GBP", locale="en_GB")
    '£1,234.50'
    """
    return format_currency(amount, currency, locale=locale)


def quantity(amount: Decimal, *, locale: str) -> str:
    """Print a quantity with as many places as it needs, three at most.

    Examples
    --------
    >>> quantity(Decimal("2.000"), locale="en_GB")
    '2'
    >>> quantity(Decimal("1.250"), locale="de_DE")
    '1,25'
    """
    return format_decimal(amount, format="#,##0.###", locale=locale)


def tax_rate(percent: Decimal, *, locale: str) -> str:
    """Print a tax rate given in per cent.

    Examples
    --------
    >>> tax_rate(Decimal("7.70"), locale="en_GB")
    '7.7%'
    """
    return format_percent(percent / HUNDRED, format="#,##0.###%", locale=locale)


def day(moment: datetime, *, locale: str, time_zone: str) -> str:
    """Print the day on which something was, where the shop is.

    Examples
    --------
    >>> from datetime import UTC
    >>> noon = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)
    >>> day(noon, locale="en_GB", time_zone="UTC")
    '25 November 2026'
    """
    return format_date(moment.astimezone(ZoneInfo(time_zone)), "long", locale=locale)


def short_day(day: date, *, locale: str) -> str:
    """Print a day for a table.

    Examples
    --------
    >>> short_day(date(2026, 11, 25), locale="en_GB")
    '25 Nov 2026'
    """
    return format_date(day, "medium", locale=locale)


def minute(moment: datetime, *, locale: str, time_zone: str) -> str:
    """Print the day and the minute at which something was, where the shop is.

    Examples
    --------
    >>> from datetime import UTC
    >>> noon = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)
    >>> minute(noon, locale="en_GB", time_zone="Europe/Berlin")
    '25 Nov 2026, 13:00'
    """
    zone = ZoneInfo(time_zone)
    return format_datetime(moment, "d MMM y, HH:mm", tzinfo=zone, locale=locale)
