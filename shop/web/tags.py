"""Template filters: figures, times and durations in the words of the shop."""

from datetime import date, datetime, timedelta
from decimal import Decimal

from babel.dates import format_date, format_datetime
from babel.numbers import format_currency, format_decimal
from django import template
from django.conf import settings
from django.utils import timezone
from django.utils.translation import to_locale

from shop.domain.labour import hours_and_minutes

register = template.Library()

_LOCALE = to_locale(settings.LANGUAGE_CODE)
_SECONDS_A_MINUTE = 60


@register.filter
def money(amount: Decimal | None, currency: str) -> str:
    """Print an amount with its currency; nothing where there is none."""
    return "" if amount is None else format_currency(amount, currency, locale=_LOCALE)


@register.filter
def quantity(amount: Decimal) -> str:
    """Print a quantity with as many places as it needs, three at most."""
    return format_decimal(amount, format="#,##0.###", locale=_LOCALE)


@register.filter
def percent(rate: Decimal) -> str:
    """Print a rate that is given in per cent."""
    return format_decimal(rate, format="0.###", locale=_LOCALE) + " %"


@register.filter
def hours(minutes: int) -> str:
    """Print minutes as hours and minutes."""
    return hours_and_minutes(minutes)


@register.filter
def plain(name: str) -> str:
    """Print a field's name as words."""
    return name.removesuffix("_id").replace("_", " ")


@register.filter
def whole_minutes(span: timedelta) -> int:
    """Return a span in minutes."""
    return int(span.total_seconds() // _SECONDS_A_MINUTE)


@register.filter
def when(moment: datetime) -> str:
    """Print day and minute where the shop is."""
    local = timezone.localtime(moment).replace(tzinfo=None)
    return format_datetime(local, "d MMM y, HH:mm", locale=_LOCALE)


@register.filter
def minute_of_day(moment: datetime) -> str:
    """Print the minute alone, where the shop is."""
    return f"{timezone.localtime(moment):%H:%M}"


@register.filter
def day(moment: date | datetime) -> str:
    """Print the day, where the shop is."""
    if isinstance(moment, datetime):
        moment = timezone.localtime(moment)
    return format_date(moment, "d MMM y", locale=_LOCALE)
