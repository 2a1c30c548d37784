"""Clocks: from the moment somebody began to the minutes that are booked.

Time that passed is counted in UTC, so that a night on which the clocks are put
forward or back is as long as it was; only the day it is booked on is local.
"""

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from enum import StrEnum
from zoneinfo import ZoneInfo

from shop.domain.entries import TextRule, clean_member
from shop.domain.labour import MAX_MINUTES, LabourKind
from shop.domain.lifecycle import State
from shop.domain.pricing import Billing
from shop.domain.refusals import Refusal

SECONDS_A_MINUTE = 60
STEPS = (5, 6, 10, 15)
MOST_MINIMUM_MINUTES = 240
LONGEST = timedelta(minutes=MAX_MINUTES)

HANDS_ON_STATES = frozenset({State.ON_THE_BENCH, State.FINAL_CHECK})
"""Where a work order stands while somebody can be clocked on to it."""

CORRECTION_REASON = TextRule("reason", "The reason", 200, required=True)
_NOTE = TextRule("note", "What is being done", 400)


class TimeRounding(StrEnum):
    """How worked time becomes booked minutes."""

    NONE = "none"
    UP = "up"
    NEAREST = "nearest"


TIME_ROUNDING_LABELS: dict[TimeRounding, str] = {
    TimeRounding.NONE: "not rounded: whole minutes as they were",
    TimeRounding.UP: "up to the next step",
    TimeRounding.NEAREST: "to the nearest step",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundingRule:
    """The shop's rule for booked minutes.

    Parameters
    ----------
    how : TimeRounding
        Up to the next step, to the nearest one, or not at all.
    step_minutes : int
        The step: 5, 6 (a tenth of an hour), 10 or 15.
    minimum_minutes : int
        The least that is booked for a stretch of work; 0 where there is none.
    """

    how: TimeRounding = TimeRounding.NONE
    step_minutes: int = 6
    minimum_minutes: int = 0

    def booked(self, worked: timedelta) -> int:
        """Return the minutes to book for the time worked.

        Less than a minute is a slip of the finger and books nothing; more than
        that books a minute at least, or the shop's minimum.

        Examples
        --------
        >>> rule = RoundingRule(how=TimeRounding.UP, step_minutes=15)
        >>> rule.booked(timedelta(minutes=31)), rule.booked(timedelta(minutes=30))
        (45, 30)
        >>> RoundingRule().booked(timedelta(minutes=7, seconds=30))
        8
        """
        seconds = int(worked.total_seconds())
        if seconds < SECONDS_A_MINUTE:
            return 0
        if self.how is TimeRounding.UP:
            rounded = _up(seconds, self.step_minutes)
        elif self.how is TimeRounding.NEAREST:
            rounded = _nearest(seconds, self.step_minutes)
        else:
            rounded = _nearest(seconds, 1)
        return max(rounded, self.minimum_minutes, 1)


def _up(seconds: int, step_minutes: int) -> int:
    return -(-seconds // (step_minutes * SECONDS_A_MINUTE)) * step_minutes


def _nearest(seconds: int, step_minutes: int) -> int:
    step_s = step_minutes * SECONDS_A_MINUTE
    return (2 * seconds + step_s) // (2 * step_s) * step_minutes


@dataclass(frozen=True, slots=True)
class Share:
    """What of a stretch of work is booked on one day."""

    day: date
    minutes: int


def shares(
    *, started_at: datetime, stopped_at: datetime, zone: str, rule: RoundingRule
) -> tuple[Share, ...]:
    """Return the booked minutes by local day; they add up to the rule's own figure.

    The stretch is rounded once and as a whole, then shared out by the time that
    fell on each day: midnight costs the customer nothing.

    Raises
    ------
    ValueError
        Where the end lies before the beginning.

    Examples
    --------
    >>> shares(
    ...     started_at=datetime(2026, 3, 2, 22, tzinfo=UTC),
    ...     stopped_at=datetime(2026, 3, 3, 1, tzinfo=UTC),
    ...     zone="UTC",
    ...     rule=RoundingRule(),
    ... )[1].minutes
    60
    """
    if stopped_at < started_at:
        raise ValueError("a clock cannot stop before it started")
    whole = stopped_at - started_at
    booked = rule.booked(whole)
    if not booked:
        return ()
    found: list[Share] = []
    given = 0
    for day, ends_at in _days(started_at, stopped_at, ZoneInfo(zone)):
        until = booked * (ends_at - started_at) // whole
        if until > given:
            found.append(Share(day, until - given))
            given = until
    return tuple(found)


def _days(
    started_at: datetime, stopped_at: datetime, zone: ZoneInfo
) -> list[tuple[date, datetime]]:
    """Return each local day of the stretch with the moment it ends in the stretch."""
    day = started_at.astimezone(zone).date()
    found: list[tuple[date, datetime]] = []
    while True:
        day_ends = midnight_after(day, zone)
        if day_ends >= stopped_at:
            return [*found, (day, stopped_at)]
        found.append((day, day_ends))
        day += timedelta(days=1)


def midnight_after(day: date, zone: ZoneInfo) -> datetime:
    """Return the moment, in UTC, at which the local day is over.

    Examples
    --------
    >>> midnight_after(date(2026, 3, 29), ZoneInfo("Europe/Berlin")).isoformat()
    '2026-03-29T22:00:00+00:00'
    """
    following = day + timedelta(days=1)
    return datetime.combine(following, time(), tzinfo=zone).astimezone(UTC)


def is_forgotten(
    *, started_at: datetime, at: datetime, zone: str, after_hours: int
) -> bool:
    """Say whether a clock has run past the shop's hours, or past local midnight.

    Examples
    --------
    >>> evening = datetime(2026, 3, 2, 23, tzinfo=UTC)
    >>> past = evening + timedelta(hours=2)
    >>> is_forgotten(started_at=evening, at=past, zone="UTC", after_hours=10)
    True
    """
    place = ZoneInfo(zone)
    day_ends = midnight_after(started_at.astimezone(place).date(), place)
    return at > day_ends or at - started_at > timedelta(hours=after_hours)


def likely_stop(
    *, started_at: datetime, at: datetime, zone: str, after_hours: int
) -> datetime:
    """Return the latest stop worth offering: the limit, but on the same local day."""
    place = ZoneInfo(zone)
    day_ends = midnight_after(started_at.astimezone(place).date(), place)
    last_minute = max(day_ends - timedelta(minutes=1), started_at)
    return min(at, started_at + timedelta(hours=after_hours), last_minute)


def check_stop(*, started_at: datetime, stopped_at: datetime, at: datetime) -> None:
    """Refuse a stop that no stretch of work can have.

    Raises
    ------
    Refusal
        ``stop-in-future``, ``stop-before-start`` or ``stretch-too-long``.
    """
    if stopped_at > at:
        raise Refusal(
            "stop-in-future",
            "The work cannot have ended later than now.",
            "stopped_at",
        )
    if stopped_at < started_at:
        raise Refusal(
            "stop-before-start",
            "The work cannot have ended before it began; write a later time.",
            "stopped_at",
        )
    if stopped_at - started_at > LONGEST:
        raise Refusal(
            "stretch-too-long",
            "Nobody works more than a day at a stretch; write when the work really "
            "ended and enter what came after by hand.",
            "stopped_at",
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class ClockEntry:
    """What is said when somebody clocks on.

    Parameters
    ----------
    kind : str
        The kind of labour, which may have a rate of its own.
    billing : str
        Who bears it: the customer, the shop's goodwill, or a warranty.
    note : str
        What is being done; empty means the task's own words.
    """

    kind: str
    billing: str = Billing.BILLABLE
    note: str = ""

    def checked(self) -> "ClockEntry":
        """Return the entry tidied, or refuse it.

        Examples
        --------
        >>> ClockEntry(kind="repair", note=" Hub rebuilt ").checked().note
        'Hub rebuilt'
        """
        kind = clean_member(
            LabourKind, self.kind, field="kind", name="The kind of work"
        )
        billing = clean_member(
            Billing, self.billing, field="billing", name="Who bears the work"
        )
        return ClockEntry(
            kind=kind.value, billing=billing.value, note=_NOTE.clean(self.note)
        )
