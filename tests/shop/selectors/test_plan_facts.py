"""What a plan is worked out from, and that more work takes no more queries."""

from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from shop.models import HistoryEntry, Task
from shop.selectors.plan_facts import plan_facts
from tests.builders import MORNING, UserFactory, WorkOrderFactory
from tests.shop.plan_room import FIRST, MONDAY, rewire, task_of

pytestmark = pytest.mark.django_db


def test_open_tasks_of_open_orders_are_planned_and_settled_ones_need_no_more() -> None:
    order = rewire()
    strip, make, fit = order.tasks.order_by("position")
    Task.objects.filter(pk=strip.pk).update(state="done")
    ready = WorkOrderFactory(state="ready")
    task_of(ready, "Left over")
    facts = plan_facts(at=MONDAY)
    assert facts.first == FIRST
    [planned] = facts.orders
    assert [(task.id, task.needs) for task in planned.tasks] == [
        (make.pk, ()),
        (fit.pk, (make.pk,)),
    ]
    assert planned.tasks[0].hours.pessimistic == Decimal(24)


def test_who_has_left_does_no_work_and_the_task_is_anybodys() -> None:
    gone, ada = UserFactory(is_active=False), UserFactory()
    order = WorkOrderFactory(state="on_the_bench", technician=gone)
    task_of(order, "Take the old loom out")
    facts = plan_facts(at=MONDAY)
    assert facts.orders[0].tasks[0].technician_id is None
    assert list(facts.days) == [ada.pk]


def test_the_last_act_of_history_is_noted() -> None:
    assert plan_facts(at=MONDAY).last_history_id == 0
    entry = HistoryEntry.objects.create(
        at=MORNING,
        actor_name="x",
        verb="task.added",
        subject_kind="task",
        subject_id=1,
        summary="Task added",
    )
    assert plan_facts(at=MONDAY).last_history_id == entry.pk


def test_more_work_takes_no_more_queries() -> None:
    def queries() -> int:
        with CaptureQueriesContext(connection) as asked:
            plan_facts(at=MONDAY)
        return len(asked)

    rewire()
    before = queries()
    for _ in range(5):
        rewire()
    assert queries() == before
