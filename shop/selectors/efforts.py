"""Estimate against actual, task by task, with what runs at this moment."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from django.db.models import Sum

from shop.domain.clocks import is_forgotten
from shop.domain.labour import MINUTES_AN_HOUR, hours_and_minutes
from shop.domain.roles import Act, Viewer
from shop.domain.tasks import TASK_OPEN, TASK_STATE_LABELS, TaskState, expected_hours
from shop.models import Clock, LabourLine, Task
from shop.selectors.shop_settings import ShopFacts, shop_facts

_HALF = Decimal("0.5")
_SECONDS_A_MINUTE = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskEffort:
    """One task: what it was to take, and what it has taken."""

    task_id: int
    operation: str
    state: str
    state_label: str
    is_open: bool
    labour_kind: str
    estimated_minutes: int
    estimated_text: str
    booked_minutes: int
    running_minutes: int
    running_names: tuple[str, ...]
    forgotten_names: tuple[str, ...]
    actual_minutes: int
    actual_text: str
    over_minutes: int
    over_text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkOrderEffort:
    """All tasks of a work order, and the hours that went into no task."""

    work_order_id: int
    tasks: tuple[TaskEffort, ...]
    estimated_minutes: int
    estimated_text: str
    actual_minutes: int
    actual_text: str
    over_minutes: int
    over_text: str
    without_task_minutes: int
    without_task_text: str


def work_order_effort(
    *, work_order_id: int, viewer: Viewer, at: datetime
) -> WorkOrderEffort:
    """Return estimate against actual of a work order, in four queries.

    What was struck out does not count; goodwill and warranty do: they are hours.
    """
    viewer.demand(Act.SEE_SHOP)
    shop = shop_facts()
    booked = _booked(work_order_id)
    running = _running(work_order_id)
    tasks = tuple(
        _effort(task, booked.get(task.pk, 0), running.get(task.pk, []), at, shop)
        for task in Task.objects.of_work_order(work_order_id)
    )
    without = booked.get(None, 0)
    counted = [task for task in tasks if task.state != TaskState.DROPPED]
    estimated = sum(task.estimated_minutes for task in counted)
    actual = sum(task.actual_minutes for task in tasks) + without
    over = max(actual - estimated, 0) if estimated else 0
    return WorkOrderEffort(
        work_order_id=work_order_id,
        tasks=tasks,
        estimated_minutes=estimated,
        estimated_text=hours_and_minutes(estimated),
        actual_minutes=actual,
        actual_text=hours_and_minutes(actual),
        over_minutes=over,
        over_text=hours_and_minutes(over),
        without_task_minutes=without,
        without_task_text=hours_and_minutes(without),
    )


def _booked(work_order_id: int) -> Mapping[int | None, int]:
    lines = LabourLine.objects.of_work_order(work_order_id).standing().order_by()
    sums = lines.values_list("task_id").annotate(minutes=Sum("minutes"))
    return dict(sums.values_list("task_id", "minutes"))


def _running(work_order_id: int) -> Mapping[int, list[Clock]]:
    found: dict[int, list[Clock]] = defaultdict(list)
    clocks = Clock.objects.running().of_work_order(work_order_id).oldest_first()
    for clock in clocks.select_related("technician"):
        found[clock.task_id].append(clock)
    return found


def _effort(
    task: Task, booked: int, running: list[Clock], at: datetime, shop: ShopFacts
) -> TaskEffort:
    state = TaskState(task.state)
    estimated = _estimated_minutes(task)
    forgotten = {clock.pk for clock in running if _is_forgotten(clock, at, shop)}
    # Of a clock that nobody can believe, nothing counts until it is put right.
    counted = [clock for clock in running if clock.pk not in forgotten]
    live = sum(
        int((at - clock.started_at).total_seconds()) // _SECONDS_A_MINUTE
        for clock in counted
    )
    actual = booked + live
    over = max(actual - estimated, 0)
    return TaskEffort(
        task_id=task.pk,
        operation=task.operation,
        state=state.value,
        state_label=TASK_STATE_LABELS[state],
        is_open=state in TASK_OPEN,
        labour_kind=task.labour_kind,
        estimated_minutes=estimated,
        estimated_text=hours_and_minutes(estimated),
        booked_minutes=booked,
        running_minutes=live,
        running_names=tuple(clock.technician.name for clock in counted),
        forgotten_names=tuple(
            clock.technician.name for clock in running if clock.pk in forgotten
        ),
        actual_minutes=actual,
        actual_text=hours_and_minutes(actual),
        over_minutes=over,
        over_text=hours_and_minutes(over),
    )


def _is_forgotten(clock: Clock, at: datetime, shop: ShopFacts) -> bool:
    return is_forgotten(
        started_at=clock.started_at,
        at=at,
        zone=shop.time_zone,
        after_hours=shop.clock_limit_hours,
    )


def _estimated_minutes(task: Task) -> int:
    hours = expected_hours(
        task.optimistic_hours, task.likely_hours, task.pessimistic_hours
    )
    return int(hours * MINUTES_AN_HOUR + _HALF)
