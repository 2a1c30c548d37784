"""The plan board: every technician's weeks, and the promises by the queue."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from shop.domain.plans import PlanState
from shop.domain.roles import Act, Viewer
from shop.models import Absence, Plan, PlanLine, User, WorkOrder
from shop.selectors.plans import PlanStanding, PromiseRow, promise_row, standing

FULL_PERCENT = 100
BUSY_PERCENT = 85


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidRow:
    """What one work order takes of a week."""

    work_order_id: int
    work_order_label: str
    minutes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekCell:
    """One technician's week on the board, in minutes and in words."""

    monday: date
    minutes_there: int
    minutes_planned: int
    minutes_promised: int
    minutes_over: int
    planned_percent: int
    load: str
    load_label: str
    orders: tuple[LaidRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class AwayRow:
    """Days on which somebody is away."""

    first_on: date
    last_on: date
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchRow:
    """One technician and the weeks."""

    technician_id: int
    technician_name: str
    minutes_over: int
    cells: tuple[WeekCell, ...]
    away: tuple[AwayRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekRow:
    """One week on the board, a cell for each bench."""

    monday: date
    cells: tuple[WeekCell, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanBoard:
    """The plan of the whole shop."""

    standing: PlanStanding
    mondays: tuple[date, ...]
    weeks: tuple[WeekRow, ...]
    benches: tuple[BenchRow, ...]
    promises: tuple[PromiseRow, ...]
    without_tasks: tuple[str, ...]
    may_keep_hours: bool


def plan_board(*, viewer: Viewer, at: datetime) -> PlanBoard:
    """Return the last plan of the whole shop, in a fixed number of queries."""
    viewer.demand(Act.SEE_SHOP)
    plan = Plan.objects.in_state(PlanState.READY).latest_first().first()
    lines = (
        list(
            PlanLine.objects.of_plan(plan.pk)
            .select_related("work_order__bike")
            .defer("tasks", "path", "waits")
        )
        if plan
        else []
    )
    weeks = plan.weeks if plan else []
    labels = {line.work_order_id: line.work_order.label for line in lines}
    benches = _benches(weeks, labels, plan)
    return PlanBoard(
        standing=standing(plan, viewer=viewer, at=at),
        weeks=_by_week(benches),
        mondays=tuple(sorted({_day(week["monday"]) for week in weeks})),
        benches=benches,
        promises=tuple(promise_row(line) for line in lines),
        without_tasks=_without_tasks(),
        may_keep_hours=viewer.may(Act.KEEP_WORKING_HOURS),
    )


def _by_week(benches: tuple[BenchRow, ...]) -> tuple[WeekRow, ...]:
    return tuple(
        WeekRow(monday=cells[0].monday, cells=cells)
        for cells in zip(*(bench.cells for bench in benches), strict=True)
    )


def _benches(
    weeks: list[Any], labels: Mapping[int, str], plan: Plan | None
) -> tuple[BenchRow, ...]:
    if plan is None or plan.first_day is None:
        return ()
    cells: dict[int, list[WeekCell]] = defaultdict(list)
    for week in weeks:
        cells[week["technician_id"]].append(_cell(week, labels))
    away: dict[int, list[AwayRow]] = defaultdict(list)
    for absence in Absence.objects.not_over(plan.first_day).soonest_first():
        away[absence.technician_id].append(
            AwayRow(
                first_on=absence.first_on,
                last_on=absence.last_on,
                reason=absence.reason,
            )
        )
    people = User.objects.by_name().filter(pk__in=cells.keys())
    return tuple(
        BenchRow(
            technician_id=person.pk,
            technician_name=person.name,
            minutes_over=sum(cell.minutes_over for cell in cells[person.pk]),
            cells=tuple(cells[person.pk]),
            away=tuple(away[person.pk]),
        )
        for person in people
    )


def _cell(week: Mapping[str, Any], labels: Mapping[int, str]) -> WeekCell:
    there, planned, over = week["there"], week["planned"], week["over"]
    share = round(planned * FULL_PERCENT / there) if there else 0
    load, label = _load(there, planned, over, share)
    return WeekCell(
        monday=_day(week["monday"]),
        minutes_there=there,
        minutes_planned=planned,
        minutes_promised=week["promised"],
        minutes_over=over,
        planned_percent=share,
        load=load,
        load_label=label,
        orders=tuple(
            LaidRow(
                work_order_id=order,
                work_order_label=labels.get(order, ""),
                minutes=minutes,
            )
            for order, minutes in week["orders"]
        ),
    )


def _load(there: int, planned: int, over: int, share: int) -> tuple[str, str]:
    """Return the kind of the week and its word: never colour alone."""
    if over:
        return "over", "Overload"
    if not there:
        return "away", "Away"
    if not planned:
        return "free", "Free"
    return ("busy", "Full") if share >= BUSY_PERCENT else ("room", "Has room")


def _without_tasks() -> tuple[str, ...]:
    """Name open work orders of which the plan can say nothing."""
    bare = WorkOrder.objects.still_open().filter(tasks__isnull=True)
    return tuple(order.label for order in bare.order_by("number"))


def _day(text: str) -> date:
    return date.fromisoformat(text)
