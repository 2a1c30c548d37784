"""The queue at the benches: priority, calendars, gaps, and nothing laid double."""

from collections import defaultdict

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shop.domain.critical_path import Network, times
from shop.domain.queue import DAY, NEVER, Job, Schedule, scheduled

ADA, BEN = 1, 2
HOURS = 60


def eight_hours(day: int) -> int:
    """Mondays to Fridays; day 0 is a Monday."""
    return 8 * HOURS if day % 7 < 5 else 0


def never(day: int) -> int:
    return 0


def all_day(day: int) -> int:
    return DAY


def laid(
    queue: list[Job],
    hours: dict[int, int],
    *,
    ready_on: dict[int, int] | None = None,
) -> Schedule:
    return scheduled(
        queue,
        minutes={task: np.array([took * HOURS]) for task, took in hours.items()},
        release={task: np.array([d * DAY]) for task, d in (ready_on or {}).items()},
        days={ADA: eight_hours, BEN: eight_hours},
    )


def finish_days(plan: Schedule) -> dict[int, int]:
    return {task: int(when[0]) // DAY for task, when in plan.finish.items()}


def test_work_goes_on_the_next_day_and_not_over_the_week_end() -> None:
    plan = laid([Job(1, ADA)], {1: 44})
    assert plan.minutes[1] == {0: 480, 1: 480, 2: 480, 3: 480, 4: 480, 7: 240}
    assert finish_days(plan) == {1: 7}


def test_the_first_in_the_queue_is_served_first() -> None:
    assert finish_days(laid([Job(1, ADA), Job(2, ADA)], {1: 16, 2: 8})) == {1: 1, 2: 2}
    assert finish_days(laid([Job(2, ADA), Job(1, ADA)], {1: 16, 2: 8})) == {2: 0, 1: 2}


def test_the_time_before_a_part_comes_goes_to_the_next_job() -> None:
    plan = laid([Job(1, ADA), Job(2, ADA)], {1: 8, 2: 16}, ready_on={1: 1})
    assert plan.minutes[1] == {1: 480}
    assert plan.minutes[2] == {0: 480, 2: 480}


def test_what_one_bench_hands_to_another_goes_on_the_same_day_and_not_earlier() -> None:
    plan = laid([Job(1, ADA), Job(2, BEN, needs=(1,))], {1: 6, 2: 4})
    assert plan.minutes[2] == {0: 120, 1: 120}


def test_a_task_that_nobody_is_on_goes_to_who_is_free_first_and_stays_there() -> None:
    queue = [
        Job(1, ADA),
        Job(2, None, group=9),
        Job(3, None, needs=(2,), group=9),
    ]
    plan = laid(queue, {1: 24, 2: 30, 3: 4})
    assert (plan.technician[2], plan.technician[3]) == (BEN, BEN)


def test_where_no_hour_is_ever_free_the_task_is_never_finished() -> None:
    plan = scheduled(
        [Job(1, ADA), Job(2, ADA, needs=(1,))],
        minutes={1: np.array([60]), 2: np.array([60])},
        release={},
        days={ADA: never},
    )
    assert plan.finish[1][0] == plan.finish[2][0] == NEVER


def test_an_empty_shop_is_told_of() -> None:
    with pytest.raises(ValueError, match="nobody"):
        scheduled([Job(1, None)], minutes={1: np.array([1])}, release={}, days={})


@st.composite
def shops(draw: st.DrawFn) -> tuple[list[Job], dict[int, list[int]], dict[int, int]]:
    size = draw(st.integers(1, 9))
    queue = [
        Job(
            task,
            draw(st.sampled_from([ADA, BEN, None])),
            needs=tuple(draw(st.sets(st.integers(0, task - 1)))) if task else (),
            group=draw(st.integers(1, 3)),
        )
        for task in range(size)
    ]
    minutes = {
        task: draw(st.lists(st.integers(0, 1500), min_size=3, max_size=3))
        for task in range(size)
    }
    ready = draw(st.dictionaries(st.integers(0, size - 1), st.integers(0, 12)))
    return queue, minutes, ready


@settings(max_examples=40)
@given(shops())
def test_no_day_is_laid_double_and_nothing_begins_before_it_may(
    shop: tuple[list[Job], dict[int, list[int]], dict[int, int]],
) -> None:
    queue, minutes, ready = shop
    plan = scheduled(
        queue,
        minutes={task: np.array(took) for task, took in minutes.items()},
        release={t: np.full(3, day * DAY) for t, day in ready.items()},
        days={ADA: eight_hours, BEN: eight_hours},
    )
    on_day: dict[tuple[int, int], int] = defaultdict(int)
    for job in queue:
        by_day = plan.minutes[job.task]
        assert sum(by_day.values()) == minutes[job.task][0]
        for day, taken in by_day.items():
            on_day[plan.technician[job.task], day] += taken
        first = min(by_day, default=None)
        if first is not None:
            assert first >= ready.get(job.task, 0)
            assert all(first >= plan.finish[w][0] // DAY for w in job.needs)
            assert plan.finish[job.task][0] // DAY == max(by_day)
        for wanted in job.needs:
            assert (plan.finish[job.task] >= plan.finish[wanted]).all()
    assert all(taken <= eight_hours(day) for (_, day), taken in on_day.items())


@settings(max_examples=40)
@given(shops())
def test_several_draws_at_once_are_each_as_alone_once_hands_are_fixed(
    shop: tuple[list[Job], dict[int, list[int]], dict[int, int]],
) -> None:
    queue, minutes, ready = shop
    fixed = [Job(job.task, job.technician or ADA, job.needs) for job in queue]

    def of(columns: slice) -> Schedule:
        size = len(minutes[0][columns])
        return scheduled(
            fixed,
            minutes={t: np.array(took[columns]) for t, took in minutes.items()},
            release={t: np.full(size, day * DAY) for t, day in ready.items()},
            days={ADA: eight_hours, BEN: eight_hours},
        )

    together = of(slice(0, 3))
    for number in range(3):
        alone = of(slice(number, number + 1))
        for task, finish in alone.finish.items():
            assert together.finish[task][number] == finish[0]


@settings(max_examples=40)
@given(shops())
def test_a_bench_for_each_task_and_no_nights_is_the_critical_path(
    shop: tuple[list[Job], dict[int, list[int]], dict[int, int]],
) -> None:
    queue, minutes, _ = shop
    plan = scheduled(
        [Job(job.task, job.task, job.needs) for job in queue],
        minutes={task: np.array(took) for task, took in minutes.items()},
        release={},
        days={job.task: all_day for job in queue},
    )
    network = Network.of({job.task: job.needs for job in queue})
    passed = times(network, np.array([minutes[task] for task in network.tasks]))
    for row, task in enumerate(network.tasks):
        # A task that ends at the stroke of midnight ends on the day it was worked.
        late = passed.earliest_finish[row] - plan.finish[task]
        assert ((late >= 0) & (late <= len(queue))).all()
