"""The plan board: for each technician and week, the hours there are and those wanted.

`planned` is what the schedule on the means lays there; it never exceeds the hours
there are. Overload is told by the promises: if all work that is promised by the end of
a week, together with all promised before, is more than the hours until then, no order
of work keeps every promise. That test is exact for one pair of hands whose work may be
laid down and taken up again (earliest promise first keeps what can be kept).
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from shop.domain.estimates import in_minutes
from shop.domain.promises import Foreseen, PlannedOrder
from shop.domain.queue import MinutesOn

WEEK = 7
MOST_WEEKS = 26


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekLoad:
    """One technician's week.

    Parameters
    ----------
    week : int
        Counted from the one that the plan begins in.
    minutes_there, minutes_planned, minutes_promised : int
        At the bench; laid there; promised for this week.
    minutes_over : int
        Promised until its end and not to be had, beyond what was over before.
    by_order : tuple of (int, int)
        Work order and minutes laid there, in the order of the queue.
    """

    technician_id: int
    week: int
    minutes_there: int
    minutes_planned: int
    minutes_promised: int
    minutes_over: int
    by_order: tuple[tuple[int, int], ...]


@dataclass(slots=True)
class _Hands:
    """One technician's work, gathered by week."""

    planned: dict[int, dict[int, int]] = field(
        default_factory=lambda: defaultdict(lambda: defaultdict(int))
    )
    promised: dict[int, int] = field(default_factory=lambda: defaultdict(int))


def week_loads(
    orders: Sequence[PlannedOrder],
    plan: Foreseen,
    *,
    days: Mapping[int, MinutesOn],
    first_weekday: int,
) -> tuple[WeekLoad, ...]:
    """Return every technician's weeks, as far as there is work, half a year at most.

    Parameters
    ----------
    first_weekday : int
        The weekday of day 0, Monday being 0.
    """
    gathered: dict[int, _Hands] = {who: _Hands() for who in days}
    for order in orders:
        for task in order.tasks:
            hands = gathered[plan.on_means.technician[task.id]]
            for day, minutes in plan.on_means.minutes[task.id].items():
                hands.planned[_week(day, first_weekday)][order.id] += minutes
            if order.promised_day is not None:
                week = _week(max(order.promised_day, 0), first_weekday)
                hands.promised[week] += in_minutes(task.hours.mean)
    last = max(
        (
            week
            for hands in gathered.values()
            for week in (*hands.planned, *hands.promised)
        ),
        default=0,
    )
    return tuple(
        load
        for who, hands in gathered.items()
        for load in _weeks(
            who, hands, days[who], first_weekday, min(last + 1, MOST_WEEKS)
        )
    )


def _week(day: int, first_weekday: int) -> int:
    return (day + first_weekday) // WEEK


def _weeks(
    who: int, hands: _Hands, minutes_on: MinutesOn, first_weekday: int, weeks: int
) -> list[WeekLoad]:
    loads = []
    there_so_far = promised_so_far = over_so_far = 0
    for week in range(weeks):
        first = week * WEEK - first_weekday
        there = sum(minutes_on(day) for day in range(max(first, 0), first + WEEK))
        there_so_far += there
        promised_so_far += hands.promised.get(week, 0)
        over = max(promised_so_far - there_so_far - over_so_far, 0)
        over_so_far += over
        laid = hands.planned.get(week, {})
        loads.append(
            WeekLoad(
                technician_id=who,
                week=week,
                minutes_there=there,
                minutes_planned=sum(laid.values()),
                minutes_promised=hands.promised.get(week, 0),
                minutes_over=over,
                by_order=tuple(laid.items()),
            )
        )
    return loads
