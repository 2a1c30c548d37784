"""Tasks of a work order, with what they wait for and where they may go."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from shop.domain.labour import LABOUR_KIND_LABELS, LabourKind
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer
from shop.domain.tasks import (
    TASK_EVENT_LABELS,
    TASK_NEEDS_REASON,
    TASK_OPEN,
    TASK_STATE_LABELS,
    TaskState,
    expected_hours,
    task_moves_from,
)
from shop.models import Hold, Task, TaskDependency, WorkOrder


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskMove:
    """A move that the table knows from here."""

    event: str
    label: str
    needs_reason: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskRow:
    """One task; `waits_for` and `held_by` say why it cannot start."""

    id: int
    work_order_id: int
    position: int
    operation: str
    notes: str
    caution: str
    labour_kind: str
    labour_kind_label: str
    technician_id: int | None
    technician_name: str
    state: str
    state_label: str
    state_since: datetime
    is_open: bool
    optimistic_hours: Decimal
    likely_hours: Decimal
    pessimistic_hours: Decimal
    expected_hours: Decimal
    depends_on: tuple[int, ...]
    waits_for: tuple[str, ...]
    held_by: tuple[str, ...]
    moves: tuple[TaskMove, ...]


def task_rows(*, work_order_id: int, viewer: Viewer) -> tuple[TaskRow, ...]:
    """Return all tasks of a work order in their order, in three queries."""
    viewer.demand(Act.SEE_SHOP)
    tasks = list(Task.objects.of_work_order(work_order_id).select_related("technician"))
    if not tasks:
        return ()
    needs: dict[int, list[int]] = defaultdict(list)
    for row in TaskDependency.objects.of_work_order(work_order_id):
        needs[row.task_id].append(row.needs_id)
    held: dict[int | None, list[str]] = defaultdict(list)
    for hold in Hold.objects.of_work_order(work_order_id).standing():
        held[hold.task_id].append(hold.detail)
    unsettled = {t.pk: t.operation for t in tasks if TaskState(t.state) in TASK_OPEN}
    may_move = viewer.may(Act.WORK_ON_BENCH)
    return tuple(
        _row(
            task,
            needs[task.pk],
            tuple(unsettled[pk] for pk in needs[task.pk] if pk in unsettled),
            tuple(held[task.pk]),
            may_move=may_move,
        )
        for task in tasks
    )


def tasks_of(*, work_order_id: int, viewer: Viewer) -> tuple[TaskRow, ...]:
    """Return the tasks of one work order.

    Raises
    ------
    NotFound
        No such work order.
    """
    rows = task_rows(work_order_id=work_order_id, viewer=viewer)
    if not rows and not WorkOrder.objects.filter(pk=work_order_id).exists():
        raise NotFound("work-order-not-found", "There is no such work order.")
    return rows


def task(*, task_id: int, viewer: Viewer) -> TaskRow:
    """Return one task.

    Raises
    ------
    NotFound
        No such task.
    """
    viewer.demand(Act.SEE_SHOP)
    order_id = Task.objects.filter(pk=task_id).values_list("work_order_id").first()
    rows = task_rows(work_order_id=order_id[0], viewer=viewer) if order_id else ()
    found = next((row for row in rows if row.id == task_id), None)
    if found is None:
        raise NotFound("task-not-found", "There is no such task.")
    return found


def _row(
    task: Task,
    needs: list[int],
    waits_for: tuple[str, ...],
    held_by: tuple[str, ...],
    *,
    may_move: bool,
) -> TaskRow:
    state = TaskState(task.state)
    mean = expected_hours(
        task.optimistic_hours, task.likely_hours, task.pessimistic_hours
    )
    return TaskRow(
        id=task.pk,
        work_order_id=task.work_order_id,
        position=task.position,
        operation=task.operation,
        notes=task.notes,
        caution=task.caution,
        labour_kind=task.labour_kind,
        labour_kind_label=LABOUR_KIND_LABELS[LabourKind(task.labour_kind)],
        technician_id=task.technician_id,
        technician_name=task.technician.name if task.technician else "",
        state=state.value,
        state_label=TASK_STATE_LABELS[state],
        state_since=task.state_since,
        is_open=state in TASK_OPEN,
        optimistic_hours=task.optimistic_hours,
        likely_hours=task.likely_hours,
        pessimistic_hours=task.pessimistic_hours,
        expected_hours=round(mean, 2),
        depends_on=tuple(needs),
        waits_for=waits_for if state is TaskState.PLANNED else (),
        held_by=held_by,
        moves=tuple(
            TaskMove(
                event=event.value,
                label=TASK_EVENT_LABELS[event],
                needs_reason=event in TASK_NEEDS_REASON,
            )
            for event in (task_moves_from(state) if may_move else ())
        ),
    )
