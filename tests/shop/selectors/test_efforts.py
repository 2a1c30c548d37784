"""Estimate against actual, with what runs at this moment."""

from datetime import timedelta

import pytest
from pytest_django import DjangoAssertNumQueries

from shop.selectors.efforts import work_order_effort
from tests.builders import (
    MORNING,
    ClockFactory,
    LabourLineFactory,
    TaskFactory,
    UserFactory,
    WorkOrderFactory,
)

pytestmark = pytest.mark.django_db


def test_hours_booked_and_running_are_held_against_the_estimate() -> None:
    # By hand: (1 + 4 x 2 + 3) / 6 = 2 h estimated; 100 min booked, 50 running.
    order = WorkOrderFactory()
    task = TaskFactory(work_order=order)
    LabourLineFactory(work_order=order, task=task, minutes=60)
    LabourLineFactory(work_order=order, task=task, minutes=40, billing="goodwill")
    LabourLineFactory(work_order=order, minutes=15)
    LabourLineFactory(work_order=WorkOrderFactory(), minutes=999)
    clock = ClockFactory(task=task, technician__first_name="Mo")
    found = work_order_effort(
        work_order_id=order.pk,
        viewer=clock.technician.as_viewer(),
        at=MORNING + timedelta(minutes=50),
    )
    (row,) = found.tasks
    assert (row.estimated_minutes, row.booked_minutes) == (120, 100)
    assert (row.running_minutes, row.running_names) == (50, ("Mo",))
    assert (row.actual_minutes, row.over_minutes) == (150, 30)
    assert (found.actual_minutes, found.over_minutes) == (165, 45)
    assert found.without_task_minutes == 15


def test_what_is_struck_out_is_no_effort_and_a_dropped_task_no_estimate() -> None:
    order, mo = WorkOrderFactory(), UserFactory()
    task = TaskFactory(work_order=order, state="dropped")
    LabourLineFactory(
        work_order=order,
        task=task,
        voided_at=MORNING,
        voided_by=mo,
        void_reason="wrong bike",
    )
    found = work_order_effort(work_order_id=order.pk, viewer=mo.as_viewer(), at=MORNING)
    assert (found.estimated_minutes, found.actual_minutes) == (0, 0)


def test_a_forgotten_clock_is_named_but_adds_nothing() -> None:
    task = TaskFactory()
    clock = ClockFactory(task=task, technician__first_name="Mo")
    found = work_order_effort(
        work_order_id=task.work_order_id,
        viewer=clock.technician.as_viewer(),
        at=MORNING + timedelta(days=2),
    )
    (row,) = found.tasks
    assert (row.actual_minutes, row.running_names) == (0, ())
    assert row.forgotten_names == ("Mo",)


def test_many_tasks_cost_no_more_queries_than_few(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    order, mo = WorkOrderFactory(), UserFactory()
    for size in (1, 6):
        for task in TaskFactory.create_batch(size, work_order=order):
            LabourLineFactory(work_order=order, task=task)
            ClockFactory(task=task)
        with django_assert_num_queries(4):
            work_order_effort(work_order_id=order.pk, viewer=mo.as_viewer(), at=MORNING)
