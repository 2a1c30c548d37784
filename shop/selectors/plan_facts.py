"""Everything that a plan is worked out from, in a fixed number of queries."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal

from django.db.models import Sum
from django.utils import timezone

from shop.domain.absences import bench_days
from shop.domain.estimates import ThreePoint, what_is_left
from shop.domain.labour import MINUTES_AN_HOUR
from shop.domain.lifecycle import State
from shop.domain.outside_work import OutsideState
from shop.domain.plans import Place, wait_until
from shop.domain.promises import PlannedOrder, PlannedTask
from shop.domain.queue import MinutesOn
from shop.domain.roles import Role
from shop.domain.working_hours import WEEKDAYS, WeekHours
from shop.models import (
    Absence,
    HistoryEntry,
    Hold,
    LabourLine,
    OutsideWork,
    Task,
    TaskDependency,
    User,
    WorkingHours,
    WorkOrder,
)

LEAST_LEFT_HOURS = Decimal("0.5")
"""What counts as left at the most of a task that has used up its longest guess:
common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AwaitedThing:
    """Something that a work order waits for."""

    work_order_id: int
    task_ids: tuple[int, ...]
    what: str
    expected_on: date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanFacts:
    """The queue by priority, the technicians' days, and what the work waits for.

    `last_history_id` was read before everything else: whatever happened after it may
    not be in the facts.
    """

    first: date
    orders: tuple[PlannedOrder, ...]
    days: Mapping[int, MinutesOn]
    awaited: tuple[AwaitedThing, ...]
    promised_on: Mapping[int, date | None]
    last_history_id: int


def plan_facts(*, at: datetime) -> PlanFacts:
    """Return what the plan is worked out from as it stands now."""
    last = HistoryEntry.objects.order_by("-pk").values_list("pk", flat=True).first()
    first = timezone.localtime(at).date()
    orders = {
        order.pk: order
        for order in WorkOrder.objects.still_open().exclude(state=State.READY.value)
    }
    tasks = list(
        Task.objects.still_open().filter(work_order__in=orders.keys()).in_order()
    )
    needs = _needs()
    awaited = _awaited(orders, tasks, needs, first)
    technicians = _technicians(orders.values(), tasks)
    planned = _planned(tasks, orders, needs, awaited, technicians, first)
    in_queue = sorted(
        planned,
        key=lambda order: Place.of(
            State(orders[order.id].state),
            orders[order.id].promised_on,
            orders[order.id].number,
        ),
    )
    return PlanFacts(
        first=first,
        orders=tuple(in_queue),
        days=_days(technicians, first),
        awaited=awaited,
        promised_on={order.id: orders[order.id].promised_on for order in in_queue},
        last_history_id=last or 0,
    )


def _needs() -> dict[int, tuple[int, ...]]:
    """Return, for each open task, the open ones that come first."""
    open_ids = Task.objects.still_open().values("pk")
    found = TaskDependency.objects.filter(task__in=open_ids, needs__in=open_ids)
    needs: dict[int, list[int]] = defaultdict(list)
    for task, wanted in found.order_by("pk").values_list("task_id", "needs_id"):
        needs[task].append(wanted)
    return {task: tuple(wanted) for task, wanted in needs.items()}


def _awaited(
    orders: Mapping[int, WorkOrder],
    tasks: Iterable[Task],
    needs: Mapping[int, tuple[int, ...]],
    first: date,
) -> tuple[AwaitedThing, ...]:
    """Return holds, and what is away: without it the last tasks cannot be done."""
    needed = {wanted for some in needs.values() for wanted in some}
    every: dict[int, list[int]] = defaultdict(list)
    last: dict[int, list[int]] = defaultdict(list)
    for task in tasks:
        every[task.work_order_id].append(task.pk)
        if task.pk not in needed:
            last[task.work_order_id].append(task.pk)
    holds = Hold.objects.standing().filter(work_order__in=orders.keys())
    away = OutsideWork.objects.in_state(OutsideState.PLANNED, OutsideState.AWAY)
    return (
        *(
            AwaitedThing(
                work_order_id=hold.work_order_id,
                task_ids=(
                    (hold.task_id,)
                    if hold.task_id
                    else tuple(every[hold.work_order_id])
                ),
                what=f"{hold.get_kind_display()}: {hold.detail}",
                expected_on=hold.expected_on,
            )
            for hold in holds.order_by("pk")
        ),
        *(
            AwaitedThing(
                work_order_id=work.work_order_id,
                task_ids=tuple(last[work.work_order_id]),
                what=f"{work.supplier.name}: {work.description}",
                expected_on=_back_on(work, first),
            )
            for work in away.select_related("supplier")
            .filter(work_order__in=orders.keys())
            .order_by("pk")
        ),
    )


def _back_on(work: OutsideWork, first: date) -> date | None:
    """Return the promised day, else sent or today and the supplier's usual time."""
    if work.promised_on is not None or work.supplier.lead_days is None:
        return work.promised_on
    return (work.sent_on or first) + timedelta(days=work.supplier.lead_days)


def _technicians(
    orders: Iterable[WorkOrder], tasks: Iterable[Task]
) -> dict[int, WeekHours]:
    """Return the weeks of all who are, or are put, at a bench."""
    named = {task.technician_id for task in tasks}
    named |= {order.technician_id for order in orders}
    weeks = {
        row.technician_id: WeekHours(**{day: getattr(row, day) for day in WEEKDAYS})
        for row in WorkingHours.objects.all()
    }
    people = User.objects.by_name().at_work().order_by("pk").values_list("pk", "role")
    return {
        pk: weeks.get(pk, WeekHours())
        for pk, role in people
        if role == Role.TECHNICIAN.value or pk in weeks or pk in named
    }


def _days(technicians: Mapping[int, WeekHours], first: date) -> dict[int, MinutesOn]:
    away: dict[int, list[tuple[date, date]]] = defaultdict(list)
    for absence in Absence.objects.not_over(first).soonest_first():
        away[absence.technician_id].append((absence.first_on, absence.last_on))
    worked = dict(
        LabourLine.objects.standing()
        .filter(done_on=first)
        .order_by()
        .values_list("technician_id")
        .annotate(Sum("minutes"))
    )
    return {
        pk: bench_days(
            week.minutes, first=first, away=away[pk], gone_today=worked.get(pk, 0)
        )
        for pk, week in technicians.items()
    }


def _planned(
    tasks: Iterable[Task],
    orders: Mapping[int, WorkOrder],
    needs: Mapping[int, tuple[int, ...]],
    awaited: Iterable[AwaitedThing],
    technicians: Mapping[int, WeekHours],
    first: date,
) -> list[PlannedOrder]:
    waits: dict[int, list[ThreePoint]] = defaultdict(list)
    for thing in awaited:
        for task_id in thing.task_ids:
            waits[task_id].append(wait_until(thing.expected_on, first=first))
    booked = dict(
        LabourLine.objects.standing()
        .filter(task__in=Task.objects.still_open().values("pk"))
        .order_by()
        .values_list("task_id")
        .annotate(Sum("minutes"))
    )
    of_order: dict[int, list[PlannedTask]] = defaultdict(list)
    for task in tasks:
        named = task.technician_id or orders[task.work_order_id].technician_id
        guess = ThreePoint(
            task.optimistic_hours, task.likely_hours, task.pessimistic_hours
        )
        done = Decimal(booked.get(task.pk, 0)) / MINUTES_AN_HOUR
        of_order[task.work_order_id].append(
            PlannedTask(
                id=task.pk,
                technician_id=named if named in technicians else None,
                hours=what_is_left(guess, done, at_least=LEAST_LEFT_HOURS),
                needs=needs.get(task.pk, ()),
                waits=tuple(waits[task.pk]),
            )
        )
    return [
        PlannedOrder(
            id=number,
            tasks=tuple(some),
            promised_day=_days_until(orders[number].promised_on, first),
        )
        for number, some in of_order.items()
    ]


def _days_until(when: date | None, first: date) -> int | None:
    return None if when is None else (when - first).days
