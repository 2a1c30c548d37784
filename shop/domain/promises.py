"""Promises: by when each work order is finished, and with what odds.

Every work order in the queue is scheduled at once, many times over: each draw gives
every task the hours, and every awaited thing the day, that chance may give it. The
days that half, four fifths and nineteen twentieths of the draws reach are the dates to
promise by. What is critical is told for each work order by itself, on the network of
its own tasks: what needs what, and what goes through the same hands. There a task
takes its hours at its technician's average pace over four weeks.

Limits: hands are given out once, on the means; the queue is worked by priority; nobody
falls ill without having been entered as away.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from shop.domain.critical_path import Network, Times, critical_path, times
from shop.domain.estimates import (
    ThreePoint,
    Whole,
    drawn,
    means,
    reached_by,
)
from shop.domain.labour import MINUTES_AN_HOUR
from shop.domain.queue import DAY, NEVER, Job, MinutesOn, Schedule, scheduled

EVEN, LIKELY, NEARLY_CERTAIN = 50, 80, 95
PACE_DAYS = 28
ALWAYS = 100
FINE = 100
"""Parts of a minute in which the critical path is reckoned."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedTask:
    """One open task, as the plan needs it.

    Parameters
    ----------
    hours : ThreePoint
        Hands-on hours that are left.
    needs : tuple of int
        Open tasks of the same work order that come first.
    waits : tuple of ThreePoint
        Days from the first until what it waits for is here.
    """

    id: int
    technician_id: int | None
    hours: ThreePoint
    needs: tuple[int, ...] = ()
    waits: tuple[ThreePoint, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedOrder:
    """One work order in the queue, with its open tasks.

    Parameters
    ----------
    promised_day : int or None
        The day that the customer was told, counted from the first; may be past.
    """

    id: int
    tasks: tuple[PlannedTask, ...]
    promised_day: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskOdds:
    """What the plan says of one task.

    Parameters
    ----------
    critical_percent : int
        In how many of a hundred draws any delay of it delays the whole.
    even_day : int or None
        The day by which it is finished in half of the draws.
    """

    task_id: int
    technician_id: int
    critical_percent: int
    even_day: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderOdds:
    """The promise of one work order: days from the first, None beyond all foresight.

    Parameters
    ----------
    kept_percent : int or None
        In how many of a hundred draws the promised day is kept.
    path : tuple of int
        Tasks along the critical path with every guess at its mean.
    """

    order_id: int
    even_day: int | None
    likely_day: int | None
    nearly_certain_day: int | None
    kept_percent: int | None
    path: tuple[int, ...]
    tasks: tuple[TaskOdds, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Foreseen:
    """The whole plan: the odds of every order, and the schedule on the means."""

    odds: tuple[OrderOdds, ...]
    on_means: Schedule


@dataclass(frozen=True, slots=True)
class _Chances:
    """Minutes and release of every task, for one set of draws."""

    minutes: Mapping[int, Whole]
    release: Mapping[int, Whole]


@dataclass(frozen=True, slots=True)
class _Worked:
    """What was drawn, and the schedule that it came to."""

    chances: _Chances
    schedule: Schedule


def foreseen(
    orders: Sequence[PlannedOrder],
    *,
    days: Mapping[int, MinutesOn],
    draws: int,
    chance: np.random.Generator,
) -> Foreseen:
    """Return by when each work order is finished, with its odds.

    Parameters
    ----------
    orders : sequence of PlannedOrder
        By priority, each with at least one task.
    days : mapping of int to MinutesOn
        The technicians' bench minutes by day, counted from the first.
    draws : int
        How often everything is drawn; 2,000 puts a 95 % date within about half a
        percent of its odds (the binomial spread, calc).
    chance : numpy.random.Generator
        Seeded by the caller, so that a plan can be repeated.

    Raises
    ------
    ValueError
        Where nobody is there to work, or tasks need each other in a circle.
    """
    queue = _queue(orders)
    on_means = _work(queue, _mean(orders), days)
    hands = on_means.schedule.technician
    fixed = [Job(job.task, hands[job.task], job.needs) for job in queue]
    in_draws = _work(fixed, _drawn(orders, draws, chance), days)
    stretch = {who: _stretch(minutes_on) for who, minutes_on in days.items()}
    odds = tuple(_odds(order, in_draws, on_means, stretch) for order in orders)
    return Foreseen(odds=odds, on_means=on_means.schedule)


def _queue(orders: Sequence[PlannedOrder]) -> list[Job]:
    queue: list[Job] = []
    for order in orders:
        tasks = {task.id: task for task in order.tasks}
        network = Network.of({task.id: task.needs for task in order.tasks})
        queue.extend(
            Job(number, tasks[number].technician_id, tasks[number].needs, order.id)
            for number in network.tasks
        )
    return queue


def _work(
    queue: Sequence[Job], chances: _Chances, days: Mapping[int, MinutesOn]
) -> _Worked:
    schedule = scheduled(
        queue, minutes=chances.minutes, release=chances.release, days=days
    )
    return _Worked(chances, schedule)


def _mean(orders: Sequence[PlannedOrder]) -> _Chances:
    tasks = [task for order in orders for task in order.tasks]
    hours = means([task.hours for task in tasks], steps_a_unit=MINUTES_AN_HOUR)
    waits = [(task.id, wait) for task in tasks for wait in task.waits]
    days = means([wait for _, wait in waits], steps_a_unit=1)
    return _by_task(tasks, hours, [number for number, _ in waits], days)


def _drawn(
    orders: Sequence[PlannedOrder], draws: int, chance: np.random.Generator
) -> _Chances:
    tasks = [task for order in orders for task in order.tasks]
    hours = drawn(
        [task.hours for task in tasks],
        draws=draws,
        steps_a_unit=MINUTES_AN_HOUR,
        chance=chance,
    )
    waits = [(task.id, wait) for task in tasks for wait in task.waits]
    days = drawn(
        [wait for _, wait in waits], draws=draws, steps_a_unit=1, chance=chance
    )
    return _by_task(tasks, hours, [number for number, _ in waits], days)


def _by_task(
    tasks: Sequence[PlannedTask], hours: Whole, waiting: Sequence[int], days: Whole
) -> _Chances:
    release: dict[int, Whole] = {}
    for number, when in zip(waiting, days * DAY, strict=True):
        release[number] = (
            np.maximum(release[number], when) if number in release else when
        )
    minutes = {task.id: row for task, row in zip(tasks, hours, strict=True)}
    return _Chances(minutes, release)


def _odds(
    order: PlannedOrder,
    in_draws: _Worked,
    on_means: _Worked,
    stretch: Mapping[int, int],
) -> OrderOdds:
    hands = on_means.schedule.technician
    network = _by_hands(order, on_means.schedule)
    critical = _passed(network, in_draws, stretch).is_critical.mean(axis=1) * ALWAYS
    finish = in_draws.schedule.finish
    end = np.maximum.reduce([finish[task] for task in network.tasks])
    return OrderOdds(
        order_id=order.id,
        even_day=_day(end, EVEN),
        likely_day=_day(end, LIKELY),
        nearly_certain_day=_day(end, NEARLY_CERTAIN),
        kept_percent=_kept(end, order.promised_day),
        path=critical_path(network, _of_one(_passed(network, on_means, stretch))),
        tasks=tuple(
            TaskOdds(
                task_id=task,
                technician_id=hands[task],
                critical_percent=round(critical[row]),
                even_day=_day(finish[task], EVEN),
            )
            for row, task in enumerate(network.tasks)
        ),
    )


def _by_hands(order: PlannedOrder, schedule: Schedule) -> Network:
    """Return the order's tasks with what needs what, and who can do one at a time."""
    in_order = Network.of({task.id: task.needs for task in order.tasks}).tasks
    worked = sorted(in_order, key=lambda task: int(schedule.finish[task][0]))
    needs = {task.id: set(task.needs) for task in order.tasks}
    last: dict[int, int] = {}
    for task in worked:
        hands = schedule.technician[task]
        if hands in last:
            needs[task].add(last[hands])
        last[hands] = task
    return Network.of({task: sorted(needs[task]) for task in worked})


def _passed(network: Network, worked: _Worked, stretch: Mapping[int, int]) -> Times:
    """Pass over the order's own network, in minutes of the calendar."""
    minutes, hands = worked.chances.minutes, worked.schedule.technician
    took = np.stack([minutes[task] * stretch[hands[task]] for task in network.tasks])
    at_once = np.zeros(took.shape[1], dtype=np.int64)
    release = np.stack(
        [worked.chances.release.get(task, at_once) for task in network.tasks]
    )
    return times(network, took, release=release * FINE)


def _of_one(passed: Times) -> Times:
    """Return what the passes say of the first draw."""
    return Times(
        *(
            array[..., 0]
            for array in (
                passed.earliest_start,
                passed.earliest_finish,
                passed.latest_start,
                passed.latest_finish,
                passed.finish,
            )
        )
    )


def _stretch(minutes_on: MinutesOn) -> int:
    """Return how many hundredths of a minute go by for one at the bench, on average.

    Somebody who is away all the while goes by the clock: their work is never
    finished, so that the dates say it.
    """
    worked = sum(minutes_on(day) for day in range(PACE_DAYS))
    return PACE_DAYS * DAY * FINE // worked if worked else FINE


def _day(ends: Whole, percent: int) -> int | None:
    end = reached_by(ends, percent=percent)
    return None if end >= NEVER else end // DAY


def _kept(ends: Whole, promised_day: int | None) -> int | None:
    if promised_day is None:
        return None
    kept = np.count_nonzero(ends // DAY <= promised_day)
    return int(kept) * ALWAYS // ends.size
