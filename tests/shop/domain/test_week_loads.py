"""The plan board: hours there are, hours laid, and promises that cannot be kept."""

from decimal import Decimal

import numpy as np

from shop.domain.estimates import ThreePoint
from shop.domain.promises import PlannedOrder, PlannedTask, foreseen
from shop.domain.week_loads import WeekLoad, week_loads

ADA, BEN = 1, 2
WEDNESDAY = 2


def eight_hours(day: int) -> int:
    """Mondays to Fridays; day 0 is a Wednesday."""
    return 480 if (day + WEDNESDAY) % 7 < 5 else 0


def order(number: int, took: int, *, promised_day: int | None = None) -> PlannedOrder:
    sure = ThreePoint(Decimal(took), Decimal(took), Decimal(took))
    task = PlannedTask(id=number, technician_id=ADA, hours=sure)
    return PlannedOrder(id=number, tasks=(task,), promised_day=promised_day)


def loads(*orders: PlannedOrder) -> list[WeekLoad]:
    days = {ADA: eight_hours, BEN: eight_hours}
    plan = foreseen(orders, days=days, draws=4, chance=np.random.default_rng(1))
    return list(week_loads(orders, plan, days=days, first_weekday=WEDNESDAY))


def of(who: int, found: list[WeekLoad]) -> list[WeekLoad]:
    return [load for load in found if load.technician_id == who]


def test_the_first_week_has_the_days_that_are_left_of_it() -> None:
    found = of(ADA, loads(order(1, 30)))
    assert [load.minutes_there for load in found] == [3 * 480, 5 * 480]
    assert [load.minutes_planned for load in found] == [24 * 60, 6 * 60]
    assert [load.by_order for load in found] == [((1, 1440),), ((1, 360),)]


def test_who_has_nothing_to_do_shows_hours_and_no_work() -> None:
    found = of(BEN, loads(order(1, 30)))
    assert [load.minutes_planned for load in found] == [0, 0]


def test_work_promised_beyond_the_hours_there_are_is_overload_told_once() -> None:
    # 24 hours until Sunday, 64 until the Sunday after; 30 are promised for the first
    # and 20 more for the second: 6 too many at first, none more later.
    found = of(ADA, loads(order(1, 30, promised_day=3), order(2, 20, promised_day=9)))
    assert [load.minutes_promised for load in found] == [30 * 60, 20 * 60]
    assert [load.minutes_over for load in found] == [6 * 60, 0]


def test_overload_that_builds_up_is_told_in_the_week_in_which_it_begins() -> None:
    found = of(ADA, loads(order(1, 20, promised_day=3), order(2, 50, promised_day=9)))
    assert [load.minutes_over for load in found[:2]] == [0, 6 * 60]


def test_a_promise_already_past_counts_for_the_first_week() -> None:
    found = of(ADA, loads(order(1, 30, promised_day=-20)))
    assert found[0].minutes_over == 6 * 60


def test_an_empty_queue_shows_the_week_there_is() -> None:
    assert [load.minutes_there for load in loads()] == [1440, 1440]
