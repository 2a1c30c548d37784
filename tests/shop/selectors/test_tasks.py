"""Tasks are read with what they wait for and where they may go."""

from itertools import pairwise

import pytest
from pytest_django import DjangoAssertNumQueries

from shop.actions.holds import place_hold
from shop.domain.holds import HoldDetails
from shop.domain.refusals import NotFound
from shop.models import TaskDependency
from shop.selectors.tasks import task, task_rows, tasks_of
from tests.builders import (
    MORNING,
    StorekeeperFactory,
    TaskFactory,
    UserFactory,
    WorkOrderFactory,
)

pytestmark = pytest.mark.django_db


def test_many_tasks_take_three_queries(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    order, mo = WorkOrderFactory(state="on_the_bench"), UserFactory()
    tasks = [TaskFactory(work_order=order, state="planned") for _ in range(6)]
    for first, then in pairwise(tasks):
        TaskDependency.objects.create(task=then, needs=first)
    with django_assert_num_queries(3):
        rows = task_rows(work_order_id=order.pk, viewer=mo.as_viewer())
    assert rows[1].waits_for == (tasks[0].operation,)
    assert rows[1].depends_on == (tasks[0].pk,)
    assert str(rows[0].expected_hours) == "2.00"  # (1 + 4 x 2 + 3) / 6


def test_a_held_task_says_by_what() -> None:
    row, mo = TaskFactory(state="planned"), UserFactory()
    place_hold(
        work_order_id=row.work_order_id,
        details=HoldDetails(kind="parts", detail="spokes", task_id=row.pk),
        acting_user=mo,
        at=MORNING,
    )
    assert task(task_id=row.pk, viewer=mo.as_viewer()).held_by == ("spokes",)


def test_moves_are_offered_to_the_bench_alone() -> None:
    row = TaskFactory(state="underway")
    bench, store = UserFactory().as_viewer(), StorekeeperFactory().as_viewer()
    offered = [move.event for move in task(task_id=row.pk, viewer=bench).moves]
    assert offered == ["finish", "lay_aside", "drop"]
    assert task(task_id=row.pk, viewer=store).moves == ()


def test_what_is_not_there_is_not_found() -> None:
    viewer = UserFactory().as_viewer()
    with pytest.raises(NotFound):
        task(task_id=0, viewer=viewer)
    with pytest.raises(NotFound):
        tasks_of(work_order_id=0, viewer=viewer)
