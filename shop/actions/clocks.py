"""Clocking on to a task, over to another, and off; ends written by hand."""

from datetime import datetime

from django.db import IntegrityError, transaction

from shop.actions._labour_lines import Booking, rate_for, write_line
from shop.actions._rows import locked, open_work_order, tax_for_line
from shop.actions.history import Happening, record
from shop.actions.tasks import move_task
from shop.domain.clocks import (
    CORRECTION_REASON,
    HANDS_ON_STATES,
    ClockEntry,
    check_stop,
    is_forgotten,
    shares,
)
from shop.domain.lifecycle import STATE_LABELS, State
from shop.domain.refusals import IllegalMove, NotFound
from shop.domain.roles import Act
from shop.domain.tasks import TASK_OPEN, TASK_STATE_LABELS, TaskEvent, TaskState
from shop.models import Clock, ShopSettings, Task, User, WorkOrder
from shop.models.columns import row_id
from shop.selectors.shop_settings import shop_facts


@transaction.atomic
def clock_on(
    *, task_id: int, entry: ClockEntry, acting_user: User, at: datetime
) -> Clock:
    """Start the acting user's clock on a task; a planned task is started with it.

    Raises
    ------
    IllegalMove
        ``clock-running`` where another clock of theirs runs; the task is settled,
        cannot be started yet, or its work order has ended.
    """
    acting_user.demand(Act.BOOK_LABOUR)
    tidy = entry.checked()
    running = _running(acting_user)
    if running is not None:
        raise _runs_already(running)
    return _start(_task(task_id), tidy, acting_user, at)


@transaction.atomic
def change_over(
    *, task_id: int, entry: ClockEntry, acting_user: User, at: datetime
) -> Clock:
    """Stop the acting user's running clock and start one on another task.

    Raises
    ------
    IllegalMove
        As `clock_off` and `clock_on`; then the old clock runs on.
    """
    acting_user.demand(Act.BOOK_LABOUR)
    tidy = entry.checked()
    task = _task(task_id)
    running = _running(acting_user)
    if running is not None:
        if running.task_id == task.pk:
            raise _runs_already(running)
        # Always in the same order: two who change over crosswise cannot lock up.
        for order_id in sorted({running.task.work_order_id, task.work_order_id}):
            locked(
                WorkOrder.objects.all(),
                pk=order_id,
                field="task_id",
                name="work order",
            )
        clock_off(clock_id=running.pk, acting_user=acting_user, at=at)
    return _start(task, tidy, acting_user, at)


@transaction.atomic
def clock_off(*, clock_id: int, acting_user: User, at: datetime) -> Clock:
    """Stop a running clock now and book its time.

    Raises
    ------
    IllegalMove
        ``clock-stopped`` where it stands already, ``clock-forgotten`` where it has
        run too long to be believed: then its end is to be written by hand.
    """
    clock = _running_clock(clock_id, acting_user)
    shop = ShopSettings.objects.current()
    if is_forgotten(
        started_at=clock.started_at,
        at=at,
        zone=shop.time_zone,
        after_hours=shop.clock_limit_hours,
    ):
        raise IllegalMove(
            "clock-forgotten",
            "This clock has run past midnight or longer than "
            f"{shop.clock_limit_hours} hours. Write when the work really ended, "
            "and why.",
            "stopped_at",
        )
    return _stop(clock, at, "", acting_user, at)


@transaction.atomic
def correct_clock(
    *,
    clock_id: int,
    stopped_at: datetime,
    reason: str,
    acting_user: User,
    at: datetime,
) -> Clock:
    """Stop a running clock at the time the work really ended, and book that.

    Raises
    ------
    Refusal
        No reason is given, or the work cannot have ended then.
    """
    clock = _running_clock(clock_id, acting_user)
    why = CORRECTION_REASON.clean(reason)
    check_stop(started_at=clock.started_at, stopped_at=stopped_at, at=at)
    return _stop(clock, stopped_at, why, acting_user, at)


def _start(task: Task, entry: ClockEntry, technician: User, at: datetime) -> Clock:
    order = open_work_order(task.work_order_id)
    task.refresh_from_db()
    state = TaskState(task.state)
    if state not in TASK_OPEN:
        raise IllegalMove(
            "task-settled",
            f"“{task.operation}” is {TASK_STATE_LABELS[state].lower()}. Take it up "
            "again before you clock on to it.",
        )
    if State(order.state) not in HANDS_ON_STATES:
        raise IllegalMove(
            "order-not-on-bench",
            "Work goes on only while the bike is on the bench; "
            f"{order.label} is {STATE_LABELS[State(order.state)].lower()}.",
        )
    if state is TaskState.PLANNED:
        move_task(task_id=task.pk, event=TaskEvent.START, acting_user=technician, at=at)
    shop = ShopSettings.objects.current()
    try:
        with transaction.atomic():
            clock = Clock.objects.create(
                task=task,
                technician=technician,
                kind=entry.kind,
                billing=entry.billing,
                note=entry.note,
                hourly_rate=rate_for(technician=technician, kind=entry.kind, shop=shop),
                started_at=at,
            )
    except IntegrityError:
        running = _running(technician)
        if running is None:
            raise
        raise _runs_already(running) from None
    record(
        Happening(
            verb="clock.started",
            kind="clock",
            subject_id=clock.pk,
            work_order_id=order.pk,
            summary=f"{technician.name} clocked on: {entry.note or task.operation}",
        ),
        acting_user=technician,
        at=at,
    )
    return clock


def _stop(
    clock: Clock, stopped_at: datetime, why: str, acting_user: User, at: datetime
) -> Clock:
    running = Clock.objects.filter(pk=clock.pk).running()
    if running.update(stopped_at=stopped_at, correction_reason=why) != 1:
        raise _stopped_already()
    clock.refresh_from_db()
    _book(clock, acting_user, at)
    return clock


def _book(clock: Clock, acting_user: User, at: datetime) -> None:
    task, shop = clock.task, shop_facts()
    stopped_at = clock.stopped_at or at
    booked = shares(
        started_at=clock.started_at,
        stopped_at=stopped_at,
        zone=shop.time_zone,
        rule=shop.time_rule(),
    )
    for share in booked:
        write_line(
            Booking(
                order=task.work_order,
                technician=clock.technician,
                kind=clock.kind,
                description=clock.note or task.operation,
                done_on=share.day,
                minutes=share.minutes,
                hourly_rate=clock.hourly_rate,
                tax=tax_for_line(None),
                billing=clock.billing,
                task_id=task.pk,
                clock=clock,
                entry_reason=clock.correction_reason,
            ),
            acting_user=acting_user,
            at=at,
        )
    if not booked:
        record(
            Happening(
                verb="clock.stopped",
                kind="clock",
                subject_id=clock.pk,
                work_order_id=task.work_order_id,
                summary=(
                    f"{clock.technician.name} clocked off within a minute, nothing "
                    f"booked: {task.operation}"
                ),
                reason=clock.correction_reason,
            ),
            acting_user=acting_user,
            at=at,
        )


def _running(technician: User) -> Clock | None:
    return Clock.objects.running().of_technician(technician.pk).with_job().first()


def _running_clock(clock_id: int, acting_user: User) -> Clock:
    """Return the clock, locked, its work order before it; of another only with right.

    Raises
    ------
    NotFound
        No such clock.
    IllegalMove
        It is stopped.
    """
    found = Clock.objects.filter(pk=row_id(clock_id)).with_job().first()
    if found is None:
        raise NotFound("clock-not-found", "There is no such clock.", "clock_id")
    is_own = found.technician_id == acting_user.pk
    acting_user.demand(Act.BOOK_LABOUR if is_own else Act.BOOK_LABOUR_FOR_OTHERS)
    # Called off or not: what was worked while it was open is booked.
    locked(
        WorkOrder.objects.all(),
        pk=found.task.work_order_id,
        field="clock_id",
        name="work order",
    )
    clock = locked(
        Clock.objects.select_related("task__work_order", "technician"),
        pk=found.pk,
        field="clock_id",
        name="clock",
    )
    if clock.stopped_at is not None:
        raise _stopped_already()
    return clock


def _task(task_id: int) -> Task:
    task = Task.objects.filter(pk=row_id(task_id)).first()
    if task is None:
        raise NotFound("task-not-found", "There is no such task.", "task_id")
    return task


def _runs_already(running: Clock) -> IllegalMove:
    order = running.task.work_order
    return IllegalMove(
        "clock-running",
        f"You are clocked on to “{running.task.operation}” on {order.label}. "
        "Change over to stop that clock and start this one.",
    )


def _stopped_already() -> IllegalMove:
    return IllegalMove("clock-stopped", "This clock has been stopped already.")
