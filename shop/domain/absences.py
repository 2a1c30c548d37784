"""Absences: whole days on which a technician is not at the bench."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from shop.domain.entries import TextRule, tidied
from shop.domain.queue import MinutesOn
from shop.domain.refusals import Refusal

MOST_DAYS = 366

_RULES = (TextRule("reason", "The reason", 120),)


@dataclass(frozen=True, slots=True, kw_only=True)
class AbsenceDetails:
    """What can be entered about an absence.

    Parameters
    ----------
    first_on, last_on : date
        Both days are away.
    """

    first_on: date
    last_on: date
    reason: str = ""

    def checked(self) -> "AbsenceDetails":
        """Return the details tidied.

        Raises
        ------
        Refusal
            ``days-out-of-order`` or ``absence-too-long``.
        """
        if self.last_on < self.first_on:
            raise Refusal(
                "days-out-of-order",
                "The last day cannot be before the first.",
                "last_on",
            )
        if (self.last_on - self.first_on).days >= MOST_DAYS:
            raise Refusal(
                "absence-too-long",
                "An absence can be a year long at most; enter the rest on its own.",
                "last_on",
            )
        return tidied(self, _RULES)


def bench_days(
    week: tuple[int, ...],
    *,
    first: date,
    away: Iterable[tuple[date, date]],
    gone_today: int = 0,
) -> MinutesOn:
    """Return the bench minutes by day, counted from the first.

    Parameters
    ----------
    week : tuple of int
        Minutes by weekday, Monday first.
    away : iterable of (date, date)
        First and last days of absences.
    gone_today : int
        Minutes of the first day that have been worked already.

    Examples
    --------
    >>> friday = date(2026, 11, 27)
    >>> days = bench_days((360,) * 5 + (0, 0), first=friday, away=[], gone_today=60)
    >>> [days(day) for day in range(4)]
    [300, 0, 0, 360]
    """
    stretches = tuple(away)

    def minutes_on(day: int) -> int:
        when = first + timedelta(days=day)
        if any(begun <= when <= ended for begun, ended in stretches):
            return 0
        minutes = week[when.weekday()]
        return max(minutes - gone_today, 0) if day == 0 else minutes

    return minutes_on
