"""A technician's week: how many hours of each weekday are spent at the bench."""

from dataclasses import dataclass, fields
from decimal import Decimal

from shop.domain.estimates import in_minutes
from shop.domain.money import fits_minor_unit
from shop.domain.refusals import Refusal

MOST_HOURS = Decimal(24)
HOUR_PLACES = 2
USUAL_HOURS = Decimal(6)
"""Of a day of eight at the shop; the rest is talking, fetching, sweeping: common
practice, no source. What a shop enters stands above it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekHours:
    """Hours at the bench by weekday; the usual week unless said otherwise.

    Examples
    --------
    >>> WeekHours(friday=Decimal("4.5")).minutes
    (360, 360, 360, 360, 270, 0, 0)
    """

    monday: Decimal = USUAL_HOURS
    tuesday: Decimal = USUAL_HOURS
    wednesday: Decimal = USUAL_HOURS
    thursday: Decimal = USUAL_HOURS
    friday: Decimal = USUAL_HOURS
    saturday: Decimal = Decimal(0)
    sunday: Decimal = Decimal(0)

    def checked(self) -> "WeekHours":
        """Return the week, or refuse it.

        Raises
        ------
        Refusal
            ``hours-out-of-range`` or ``hours-too-fine``, at the weekday.
        """
        for weekday in WEEKDAYS:
            hours = getattr(self, weekday)
            if not hours.is_finite() or not 0 <= hours <= MOST_HOURS:
                raise Refusal(
                    "hours-out-of-range",
                    f"{weekday.capitalize()} must have from 0 to {MOST_HOURS} hours.",
                    weekday,
                )
            if not fits_minor_unit(hours, minor_digits=HOUR_PLACES):
                raise Refusal(
                    "hours-too-fine",
                    f"{weekday.capitalize()} can have {HOUR_PLACES} decimal places.",
                    weekday,
                )
        return self

    @property
    def minutes(self) -> tuple[int, ...]:
        """Return the whole minutes of each weekday, Monday first."""
        return tuple(in_minutes(getattr(self, weekday)) for weekday in WEEKDAYS)


WEEKDAYS = tuple(field.name for field in fields(WeekHours))
