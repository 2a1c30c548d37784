"""What a bike or a task waits for: put down, and released with history."""

from datetime import datetime

from django.db import transaction

from shop.actions._holds import open_hold, release, show_waiting
from shop.actions._rows import locked, open_work_order
from shop.actions.moves import move_work_order
from shop.domain.holds import (
    RELEASE_ACTS,
    RELEASE_NOTE,
    HoldDetails,
    HoldReason,
)
from shop.domain.lifecycle import STATE_LABELS, Event, State
from shop.domain.refusals import IllegalMove, NotFound
from shop.domain.roles import Act
from shop.domain.tasks import TASK_OPEN, TaskState
from shop.domain.work_orders import Particulars
from shop.models import Hold, Task, User, WorkOrder


@transaction.atomic
def place_hold(
    *, work_order_id: int, details: HoldDetails, acting_user: User, at: datetime
) -> Hold:
    """Write down what a bike, or one of its tasks, waits for.

    A hold on the whole bike stops the work on it: the work order goes to Waiting.

    Raises
    ------
    IllegalMove
        The bike is not on the bench, or the task is settled.
    """
    acting_user.demand(Act.KEEP_HOLDS)
    tidy = details.checked()
    order = open_work_order(work_order_id)
    if tidy.task_id is not None:
        _check_task(order, tidy.task_id)
        return open_hold(order, tidy, acting_user=acting_user, at=at)
    state = State(order.state)
    if state is State.ON_THE_BENCH:
        move_work_order(
            work_order_id=order.pk,
            event=Event.WAIT,
            particulars=Particulars(
                reason=tidy.detail,
                hold_kind=tidy.kind,
                expected_on=tidy.expected_on,
            ),
            acting_user=acting_user,
            at=at,
        )
        return Hold.objects.of_work_order(order.pk).standing().of_whole_bike()[0]
    if state is not State.WAITING:
        raise IllegalMove(
            "nothing-to-hold",
            f"{order.label} is {STATE_LABELS[state].lower()}: only work on the bench "
            "can be put on hold. A single task can be held at any time.",
        )
    hold = open_hold(order, tidy, acting_user=acting_user, at=at)
    show_waiting(order)
    return hold


@transaction.atomic
def release_hold(
    *, hold_id: int, acting_user: User, at: datetime, note: str = ""
) -> Hold:
    """Say that what was waited for has come.

    The work order stays Waiting until somebody takes it up again.

    Raises
    ------
    IllegalMove
        Somebody released it already.
    """
    known = Hold.objects.filter(pk=hold_id).first()
    if known is None:
        raise NotFound("hold-not-found", "There is no such hold.", "hold_id")
    acting_user.demand(RELEASE_ACTS[HoldReason(known.kind)])
    said = RELEASE_NOTE.clean(note)
    order = open_work_order(known.work_order_id)
    hold = locked(Hold.objects.all(), pk=hold_id, field="hold_id", name="hold")
    release(hold, note=said, acting_user=acting_user, at=at)
    if order.state == State.WAITING.value:
        show_waiting(order)
    return hold


def _check_task(order: WorkOrder, task_id: int) -> None:
    task = Task.objects.of_work_order(order.pk).filter(pk=task_id).first()
    if task is None:
        raise NotFound(
            "task-not-on-order", "There is no such task on this work order.", "task_id"
        )
    if TaskState(task.state) not in TASK_OPEN:
        raise IllegalMove(
            "task-settled",
            f"“{task.operation}” is settled; there is nothing to hold.",
            "task_id",
        )
