"""Tasks are planned, ordered and moved; the ticket's history tells all of it."""

from datetime import timedelta
from decimal import Decimal

import pytest

from shop.actions.tasks import edit_task, move_task, place_task, plan_task
from shop.domain.refusals import ConcurrentChange, IllegalMove, NotFound, Refusal
from shop.domain.tasks import TaskDetails, TaskEvent, TaskState
from shop.models import HistoryEntry, Task, TaskDependency, User, WorkOrder
from tests.builders import MORNING, TaskFactory, UserFactory, WorkOrderFactory

pytestmark = pytest.mark.django_db
LATER = MORNING + timedelta(hours=2)


@pytest.fixture
def order() -> WorkOrder:
    return WorkOrderFactory(state="on_the_bench")


@pytest.fixture
def mo() -> User:
    return UserFactory(first_name="Mo")


def plan(
    order: WorkOrder, mo: User, operation: str, after: tuple[int, ...] = ()
) -> Task:
    return plan_task(
        work_order_id=order.pk,
        details=TaskDetails(
            operation=operation,
            optimistic_hours=Decimal(1),
            likely_hours=Decimal(2),
            pessimistic_hours=Decimal(4),
        ),
        depends_on=after,
        acting_user=mo,
        at=MORNING,
    )


def go(task: Task, event: TaskEvent, mo: User, reason: str = "") -> TaskState:
    return move_task(
        task_id=task.pk, event=event, reason=reason, acting_user=mo, at=LATER
    )


def test_a_task_is_planned_at_the_end_of_the_list(order: WorkOrder, mo: User) -> None:
    first, second = plan(order, mo, "Strip"), plan(order, mo, "Build")
    assert (first.position, second.position) == (1, 2)
    told = HistoryEntry.objects.of_work_order(order.pk).order_by("pk")
    assert [entry.summary for entry in told] == [
        "Task planned: Strip",
        "Task planned: Build",
    ]


def test_a_task_waits_for_the_one_before_it(order: WorkOrder, mo: User) -> None:
    strip = plan(order, mo, "Strip")
    build = plan(order, mo, "Build", after=(strip.pk,))
    with pytest.raises(IllegalMove, match="First comes: Strip"):
        go(build, TaskEvent.START, mo)
    go(strip, TaskEvent.START, mo)
    go(strip, TaskEvent.FINISH, mo)
    assert go(build, TaskEvent.START, mo) is TaskState.UNDERWAY


def test_a_dropped_task_keeps_nothing_waiting(order: WorkOrder, mo: User) -> None:
    strip = plan(order, mo, "Strip")
    build = plan(order, mo, "Build", after=(strip.pk,))
    go(strip, TaskEvent.DROP, mo, "comes stripped")
    assert go(build, TaskEvent.START, mo) is TaskState.UNDERWAY
    entry = HistoryEntry.objects.of_subject("task", strip.pk).latest_first()[0]
    assert (entry.old_state, entry.new_state, entry.reason) == (
        "planned",
        "dropped",
        "comes stripped",
    )


def test_a_circle_is_refused_and_nothing_is_written(order: WorkOrder, mo: User) -> None:
    strip = plan(order, mo, "Strip")
    build = plan(order, mo, "Build", after=(strip.pk,))
    with pytest.raises(Refusal, match="circle") as refused:
        edit_task(
            task_id=strip.pk,
            changes={"depends_on": [build.pk]},
            acting_user=mo,
            at=LATER,
        )
    assert refused.value.field == "depends_on"
    assert TaskDependency.objects.count() == 1


def test_what_comes_first_is_on_the_same_work_order(order: WorkOrder, mo: User) -> None:
    other = TaskFactory()
    with pytest.raises(NotFound):
        plan(order, mo, "Build", after=(other.pk,))


def test_whoever_starts_a_task_that_is_nobodys_has_it(
    order: WorkOrder, mo: User
) -> None:
    task = plan(order, mo, "Strip")
    go(task, TaskEvent.START, mo)
    task.refresh_from_db()
    assert (task.technician, task.state_since) == (mo, LATER)


def test_what_one_saw_is_no_longer_so(order: WorkOrder, mo: User) -> None:
    task = plan(order, mo, "Strip")
    go(task, TaskEvent.START, mo)
    with pytest.raises(ConcurrentChange):
        move_task(
            task_id=task.pk,
            event=TaskEvent.DROP,
            reason="no need",
            seen_state=TaskState.PLANNED,
            acting_user=mo,
            at=LATER,
        )


def test_an_ended_work_order_keeps_its_tasks_as_they_are(mo: User) -> None:
    task = TaskFactory(work_order=WorkOrderFactory(state="closed"))
    with pytest.raises(IllegalMove, match="nothing more"):
        go(task, TaskEvent.FINISH, mo)


def test_a_correction_is_told_field_by_field(order: WorkOrder, mo: User) -> None:
    task = plan(order, mo, "Strip")
    edit_task(
        task_id=task.pk,
        changes={"likely_hours": Decimal(3), "technician_id": mo.pk},
        acting_user=mo,
        at=LATER,
    )
    entry = HistoryEntry.objects.of_subject("task", task.pk).latest_first()[0]
    assert entry.changes == {
        "likely_hours": ["2.00", "3"],
        "technician": ["", mo.name],
    }


def test_places_stay_one_to_n(order: WorkOrder, mo: User) -> None:
    tasks = [plan(order, mo, name) for name in ("Strip", "Plate", "Build")]
    place_task(task_id=tasks[2].pk, position=1, acting_user=mo, at=LATER)
    found = Task.objects.of_work_order(order.pk).values_list("operation", "position")
    assert list(found) == [("Build", 1), ("Strip", 2), ("Plate", 3)]
