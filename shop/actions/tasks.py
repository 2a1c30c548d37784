"""Tasks planned, corrected, put in order and moved along."""

from collections.abc import Collection, Mapping
from dataclasses import asdict
from datetime import datetime

from django.db import transaction
from django.db.models import Max

from shop.actions._bench import check_bench_worker
from shop.actions._details import details_of, put
from shop.actions._rows import locked, open_work_order
from shop.actions.history import Happening, record
from shop.domain.entries import TextRule, altered, differences
from shop.domain.lifecycle import State
from shop.domain.refusals import ConcurrentChange, NotFound
from shop.domain.roles import Act
from shop.domain.tasks import (
    TASK_EVENT_DONE,
    TaskDetails,
    TaskEvent,
    TaskFacts,
    TaskState,
    check_no_cycle,
    next_task_state,
)
from shop.models import Hold, Task, TaskDependency, User, WorkOrder

_REASON = TextRule("reason", "The reason", 200)


@transaction.atomic
def plan_task(
    *,
    work_order_id: int,
    details: TaskDetails,
    acting_user: User,
    at: datetime,
    depends_on: Collection[int] = (),
) -> Task:
    """Put a task at the end of an open work order's list.

    Raises
    ------
    Refusal
        Hours are out of order, or what must come first is not on this work order.
    """
    acting_user.demand(Act.PLAN_TASKS)
    tidy = details.checked()
    order = open_work_order(work_order_id)
    check_bench_worker(tidy.technician_id)
    task = Task.objects.create(
        work_order=order,
        position=_last_position(order) + 1,
        state=TaskState.PLANNED.value,
        state_since=at,
        created_at=at,
        **asdict(tidy),
    )
    _put_after(task, depends_on)
    record(
        _told(task, "task.planned", f"Task planned: {task.operation}"),
        acting_user=acting_user,
        at=at,
    )
    return task


@transaction.atomic
def edit_task(
    *,
    task_id: int,
    changes: Mapping[str, object],
    acting_user: User,
    at: datetime,
) -> Task:
    """Correct a task of an open work order; `changes` is by field.

    The field `depends_on` holds the ids of the tasks that must come first.
    """
    acting_user.demand(Act.PLAN_TASKS)
    task = _task_of_open_order(task_id)
    old = details_of(task, TaskDetails)
    words = {name: value for name, value in changes.items() if name != "depends_on"}
    new = altered(old, words).checked()
    found = differences(old, new)
    if "technician_id" in found:
        check_bench_worker(new.technician_id)
        found["technician_id"] = _names(old.technician_id, new.technician_id)
    put(task, new, found)
    if "depends_on" in changes:
        found |= _reordered(task, changes["depends_on"])
    if not found:
        return task
    if "technician_id" in found:
        found["technician"] = found.pop("technician_id")
    record(
        _told(task, "task.edited", f"Task corrected: {task.operation}", changes=found),
        acting_user=acting_user,
        at=at,
    )
    return task


@transaction.atomic
def place_task(*, task_id: int, position: int, acting_user: User, at: datetime) -> Task:
    """Move a task to another place in its list; places run from 1."""
    acting_user.demand(Act.PLAN_TASKS)
    task = _task_of_open_order(task_id)
    rows = list(Task.objects.of_work_order(task.work_order_id))
    others = [row for row in rows if row.pk != task.pk]
    others.insert(max(position, 1) - 1, task)
    for number, row in enumerate(others, start=1):
        row.position = number
    Task.objects.bulk_update(others, ["position"])
    if [row.pk for row in rows] != [row.pk for row in others]:
        told = f"Task moved to place {task.position}: {task.operation}"
        record(_told(task, "task.placed", told), acting_user=acting_user, at=at)
    return task


@transaction.atomic
def move_task(
    *,
    task_id: int,
    event: TaskEvent,
    acting_user: User,
    at: datetime,
    reason: str = "",
    seen_state: TaskState | None = None,
) -> TaskState:
    """Move a task by one event and return its new state.

    `seen_state` is what the user saw when they decided; where it has changed since,
    nothing is done.

    Raises
    ------
    IllegalMove
        The table has no such move, or something must come first.
    ConcurrentChange
        Somebody else moved it first.
    """
    acting_user.demand(Act.WORK_ON_BENCH)
    why = _REASON.clean(reason)
    task = _task_of_open_order(task_id)
    old = TaskState(task.state)
    if seen_state is not None and seen_state is not old:
        raise _moved_already(task)
    new = next_task_state(old, event, _facts(task, why))
    columns: dict[str, object] = {"state": new.value, "state_since": at}
    if event is TaskEvent.START and task.technician_id is None:
        columns["technician"] = acting_user
    if Task.objects.filter(pk=task.pk, state=old.value).update(**columns) != 1:
        raise _moved_already(task)
    record(
        _told(
            task,
            f"task.{event.value}",
            f"{task.operation}: {TASK_EVENT_DONE[event]}",
            reason=why,
            moved=(old, new),
        ),
        acting_user=acting_user,
        at=at,
    )
    return new


def _task_of_open_order(task_id: int) -> Task:
    """Return the task; its work order is locked first, so that lists cannot cross."""
    order_id = Task.objects.filter(pk=task_id).values_list("work_order_id").first()
    if order_id is None:
        raise NotFound("task-not-found", "There is no such task.", "task_id")
    open_work_order(order_id[0])
    return locked(
        Task.objects.select_related("work_order"),
        pk=task_id,
        field="task_id",
        name="task",
    )


def _last_position(order: WorkOrder) -> int:
    found = Task.objects.filter(work_order=order).aggregate(last=Max("position"))
    return found["last"] or 0


def _put_after(task: Task, wanted: object) -> None:
    """Write what must come first, or refuse what is not on the list or a circle."""
    names = dict(
        Task.objects.filter(work_order_id=task.work_order_id).values_list(
            "pk", "operation"
        )
    )
    first = _ids(wanted)
    if not first <= names.keys():
        raise NotFound(
            "task-not-on-order",
            "What comes first must be a task of the same work order.",
            "depends_on",
        )
    needs: dict[int, set[int]] = {pk: set() for pk in names}
    rows = TaskDependency.objects.of_work_order(task.work_order_id)
    for row in rows:
        needs[row.task_id].add(row.needs_id)
    needs[task.pk] = first
    check_no_cycle(needs, names)
    rows.filter(task=task).exclude(needs__in=first).delete()
    known = set(rows.filter(task=task).values_list("needs_id", flat=True))
    TaskDependency.objects.bulk_create(
        TaskDependency(task=task, needs_id=pk) for pk in sorted(first - known)
    )


def _reordered(task: Task, wanted: object) -> dict[str, tuple[str, str]]:
    before = _operations_first(task)
    _put_after(task, wanted)
    after = _operations_first(task)
    return {} if before == after else {"depends_on": (before, after)}


def _operations_first(task: Task) -> str:
    rows = TaskDependency.objects.filter(task=task).order_by("needs__position")
    return "; ".join(rows.values_list("needs__operation", flat=True))


def _ids(wanted: object) -> set[int]:
    if not isinstance(wanted, Collection) or isinstance(wanted, str):
        raise TypeError(f"ids expected, not {wanted!r}")
    return {int(pk) for pk in wanted}


def _facts(task: Task, reason: str) -> TaskFacts:
    first = Task.objects.filter(needed_by=task).still_open().in_order()
    held = Hold.objects.that_stop(task).standing()
    return TaskFacts(
        order_state=State(task.work_order.state),
        reason=reason,
        waits_for=tuple(first.values_list("operation", flat=True)),
        held_by=tuple(held.values_list("detail", flat=True)),
    )


def _names(old: int | None, new: int | None) -> tuple[str, str]:
    found = User.objects.filter(pk__in=[pk for pk in (old, new) if pk is not None])
    people = {person.pk: person.name for person in found}
    return people.get(old or 0, ""), people.get(new or 0, "")


def _told(
    task: Task,
    verb: str,
    summary: str,
    *,
    reason: str = "",
    moved: tuple[TaskState, TaskState] | None = None,
    changes: Mapping[str, tuple[str, str]] | None = None,
) -> Happening:
    return Happening(
        verb=verb,
        kind="task",
        subject_id=task.pk,
        work_order_id=task.work_order_id,
        summary=summary,
        reason=reason,
        old_state=moved[0] if moved else None,
        new_state=moved[1] if moved else None,
        changes=changes,
    )


def _moved_already(task: Task) -> ConcurrentChange:
    return ConcurrentChange(
        "task-moved-already",
        f"Somebody else moved “{task.operation}” in the meantime. Look at it again.",
    )
