"""The queue at the benches: tasks laid onto technicians' days, by priority.

A serial schedule: task after task, in the order of priority, takes the first minutes
that its technician has free once everything it needs is finished. Work is laid down
overnight and taken up again. A gap before a task that waits for a part goes to
whatever comes later in the queue, as it does in a real shop. All draws are scheduled
at once: minutes taken are arrays over draws.

A point in time is a whole number, day times `DAY` plus how much of that day's bench
time has gone, so that work handed from one bench to another goes on the same day.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from shop.domain.estimates import Whole

DAY = 1440
LAST_DAY = 5 * 366
"""Days after which nothing is foreseen any more."""
NEVER = LAST_DAY * DAY

MinutesOn = Callable[[int], int]
"""Bench minutes of one technician on a day, counted from the first."""


@dataclass(frozen=True, slots=True)
class Job:
    """One task in the queue.

    Parameters
    ----------
    task : int
        Its id.
    technician : int or None
        Who does it; None leaves it to whoever is free first.
    needs : tuple of int
        Tasks that must be finished first, each earlier in the queue.
    group : int
        Tasks of one group that nobody is on go to one pair of hands.
    """

    task: int
    technician: int | None
    needs: tuple[int, ...] = ()
    group: int = 0


@dataclass(frozen=True, slots=True)
class Laid:
    """Where work would lie on a bench.

    Parameters
    ----------
    finish : ndarray of int, shape (draws,)
        When it is finished; `NEVER` where no time was found.
    by_day : mapping of int to ndarray of int, shape (draws,)
        Day to the minutes taken on it.
    """

    finish: Whole
    by_day: Mapping[int, Whole]


class Bench:
    """One technician's days, and what is still free of them in every draw."""

    def __init__(self, minutes_on: MinutesOn, draws: int) -> None:
        self._minutes_on = minutes_on
        self._draws = draws
        self._minutes: list[int] = []
        self._free: list[Whole] = []
        self._is_full: list[bool] = []

    def lay(self, ready: Whole, minutes: Whole) -> Laid:
        """Find the first free minutes from `ready` on, without taking them."""
        left = minutes.copy()
        finish = np.where(left == 0, ready, NEVER)
        last_begun = int(ready.max(initial=0)) // DAY
        day = int(ready.min(initial=NEVER)) // DAY
        by_day: dict[int, Whole] = {}
        while day < LAST_DAY and left.any():
            self._look_ahead(day)
            if not self._is_full[day]:
                free, gone = self._open(ready, day, is_begun=day > last_begun)
                used = np.minimum(free, left)
                left -= used
                ended = np.flatnonzero((left == 0) & (used > 0))
                if ended.size:
                    share = (gone + used)[ended] * DAY // self._minutes[day]
                    finish[ended] = day * DAY + np.minimum(share, DAY - 1)
                by_day[day] = used
            day += 1
        return Laid(finish, by_day)

    def take(self, laid: Laid) -> None:
        """Take the minutes that were found."""
        for day, used in laid.by_day.items():
            self._free[day] -= used
            self._is_full[day] = not self._free[day].any()

    def _look_ahead(self, day: int) -> None:
        while len(self._minutes) <= day:
            minutes = self._minutes_on(len(self._minutes))
            self._minutes.append(minutes)
            self._free.append(np.full(self._draws, minutes, dtype=np.int64))
            self._is_full.append(minutes == 0)

    def _open(self, ready: Whole, day: int, *, is_begun: bool) -> tuple[Whole, Whole]:
        """Return the minutes open on a day, and how many have gone before them."""
        free = self._free[day]
        taken = self._minutes[day] - free
        if is_begun:
            return free, taken
        since = np.minimum(np.maximum(ready - day * DAY, 0), DAY)
        gone = -(-self._minutes[day] * since // DAY)
        return np.minimum(free, self._minutes[day] - gone), np.maximum(taken, gone)


@dataclass(frozen=True, slots=True)
class Schedule:
    """When each task is finished, and who does it.

    Parameters
    ----------
    finish : mapping of int to ndarray of int, shape (draws,)
        Task to its finish; `NEVER` or later where no time was found.
    technician : mapping of int to int
        Task to technician, also where the queue chose one.
    minutes : mapping of int to mapping of int to int
        Task to the minutes that it takes of each day, in the first draw.
    """

    finish: Mapping[int, Whole]
    technician: Mapping[int, int]
    minutes: Mapping[int, Mapping[int, int]]


def scheduled(
    queue: Sequence[Job],
    *,
    minutes: Mapping[int, Whole],
    release: Mapping[int, Whole],
    days: Mapping[int, MinutesOn],
) -> Schedule:
    """Lay the queue onto the benches, the first in it first.

    Parameters
    ----------
    queue : sequence of Job
        By priority; what a task needs stands before it.
    minutes : mapping of int to ndarray of int, shape (draws,)
        How long each task takes.
    release : mapping of int to ndarray of int, shape (draws,)
        When a task may start at all; a task that is not in it may at once.
    days : mapping of int to MinutesOn
        The technicians and their bench minutes.

    Raises
    ------
    ValueError
        Where nobody is there to work.

    Examples
    --------
    Two tasks of six hours, one after the other, on days of eight hours:

    >>> six = np.array([360])
    >>> plan = scheduled(
    ...     [Job(1, 7), Job(2, 7, needs=(1,))],
    ...     minutes={1: six, 2: six},
    ...     release={},
    ...     days={7: lambda day: 480},
    ... )
    >>> [int(plan.finish[task][0]) / DAY for task in (1, 2)]
    [0.75, 1.5]
    >>> plan.minutes[2]
    {0: 120, 1: 240}
    """
    if queue and not days:
        raise ValueError("nobody is there to work")
    draws = max((array.size for array in minutes.values()), default=1)
    benches = {who: Bench(minutes_on, draws) for who, minutes_on in days.items()}
    finish: dict[int, Whole] = {}
    hands: dict[int, int] = {}
    of_group: dict[int, int] = {}
    by_day: dict[int, Mapping[int, int]] = {}
    at_once = np.zeros(draws, dtype=np.int64)
    for job in queue:
        ready = release.get(job.task, at_once)
        for wanted in job.needs:
            ready = np.maximum(ready, finish[wanted])
        who = job.technician
        if who is None:
            who = of_group.get(job.group)
        if who is None:
            who = _first_free(benches, ready, minutes[job.task])
            of_group[job.group] = who
        laid = benches[who].lay(ready, minutes[job.task])
        benches[who].take(laid)
        finish[job.task], hands[job.task] = laid.finish, who
        first = {day: int(used[0]) for day, used in laid.by_day.items()}
        by_day[job.task] = {day: used for day, used in first.items() if used}
    return Schedule(finish, hands, by_day)


def _first_free(benches: Mapping[int, Bench], ready: Whole, minutes: Whole) -> int:
    """Return who would be finished first on average; of equals the lowest id."""
    ends = {
        who: int(bench.lay(ready, minutes).finish.sum())
        for who, bench in benches.items()
    }
    return min(sorted(ends), key=lambda who: ends[who])
