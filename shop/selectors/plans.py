"""The plan of the shop: the promise of one work order, and all of them by the queue."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from shop.domain.plans import PLAN_STATE_LABELS, UNDER_WAY, PlanState
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer
from shop.models import Plan, PlanLine, Task, User, WorkOrder
from shop.selectors.plan_staleness import is_out_of_date

CRITICAL_OFTEN = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanStanding:
    """When the plan was worked out, from which seed, and whether it still holds."""

    plan_id: int | None
    computed_at: datetime | None
    seed: int | None
    draws: int | None
    is_out_of_date: bool
    is_under_way: bool
    state_label: str
    failure_reason: str
    may_request: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedTaskRow:
    """What the plan says of one task."""

    task_id: int
    operation: str
    technician_name: str
    is_on_path: bool
    critical_percent: int
    even_on: date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class AwaitedRow:
    """Something that the plan reckons with waiting for."""

    what: str
    expected_on: date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PromiseRow:
    """By when a work order is finished; no day where none could be foreseen."""

    work_order_id: int
    work_order_label: str
    bike_name: str
    position: int
    even_on: date | None
    likely_on: date | None
    nearly_certain_on: date | None
    promised_on: date | None
    kept_percent: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanPanel:
    """The promise of one work order with its reasons."""

    work_order_id: int
    work_order_label: str
    standing: PlanStanding
    promise: PromiseRow | None
    has_tasks: bool
    path_words: str
    rivals_words: str
    tasks: tuple[PlannedTaskRow, ...]
    awaited: tuple[AwaitedRow, ...]


def plan_panel(*, work_order_id: int, viewer: Viewer, at: datetime) -> PlanPanel:
    """Return what the last plan says of one work order, in a fixed number of queries.

    Raises
    ------
    NotFound
        There is no such work order.
    """
    viewer.demand(Act.SEE_SHOP)
    order = WorkOrder.objects.select_related("bike").filter(pk=work_order_id).first()
    if order is None:
        raise NotFound("work-order-not-found", "There is no such work order.")
    plan = last_plan()
    line = None
    if plan is not None:
        found = PlanLine.objects.of_plan(plan.pk).of_work_order(work_order_id)
        line = found.select_related("work_order__bike").first()
    names = dict(
        Task.objects.of_work_order(work_order_id).values_list("pk", "operation")
    )
    rows = _tasks(line, names) if line else ()
    return PlanPanel(
        work_order_id=order.pk,
        work_order_label=order.label,
        standing=standing(plan, viewer=viewer, at=at),
        promise=promise_row(line) if line else None,
        has_tasks=bool(names),
        path_words=_path_words(line, rows),
        rivals_words=_rivals_words(rows),
        tasks=rows,
        awaited=_awaited(line) if line else (),
    )


def last_plan() -> Plan | None:
    """Return the last plan that stands, without its weeks."""
    ready = Plan.objects.in_state(PlanState.READY).latest_first()
    return ready.defer("weeks").first()


def standing(plan: Plan | None, *, viewer: Viewer, at: datetime) -> PlanStanding:
    """Say how a plan stands, and whether a newer one is on its way."""
    newest = Plan.objects.latest_first().defer("weeks").first()
    state = PlanState(newest.state) if newest else None
    return PlanStanding(
        plan_id=plan.pk if plan else None,
        computed_at=plan.computed_at if plan else None,
        seed=plan.seed if plan else None,
        draws=plan.draws if plan else None,
        is_out_of_date=plan is not None and is_out_of_date(plan, at=at),
        is_under_way=state in UNDER_WAY,
        state_label=PLAN_STATE_LABELS[state] if state else "",
        failure_reason=(
            newest.failure_reason if newest and state is PlanState.FAILED else ""
        ),
        may_request=viewer.may(Act.PLAN_WORK),
    )


def promise_row(line: PlanLine) -> PromiseRow:
    """Return a line as a row; work order and bike must have been fetched with it."""
    return PromiseRow(
        work_order_id=line.work_order_id,
        work_order_label=line.work_order.label,
        bike_name=line.work_order.bike.name,
        position=line.position,
        even_on=line.even_on,
        likely_on=line.likely_on,
        nearly_certain_on=line.nearly_certain_on,
        promised_on=line.promised_on,
        kept_percent=line.kept_percent,
    )


def _tasks(line: PlanLine, names: Mapping[int, str]) -> tuple[PlannedTaskRow, ...]:
    people = {person.pk: person.name for person in User.objects.all()}
    on_path = set(line.path)
    return tuple(
        PlannedTaskRow(
            task_id=said["task_id"],
            operation=names[said["task_id"]],
            technician_name=people.get(said["technician_id"], ""),
            is_on_path=said["task_id"] in on_path,
            critical_percent=said["critical_percent"],
            even_on=_day(said["even_on"]),
        )
        for said in line.tasks
        if said["task_id"] in names
    )


def _awaited(line: PlanLine) -> tuple[AwaitedRow, ...]:
    return tuple(
        AwaitedRow(what=said["what"], expected_on=_day(said["expected_on"]))
        for said in line.waits
    )


def _day(text: Any) -> date | None:
    return date.fromisoformat(text) if text else None


def _path_words(line: PlanLine | None, rows: tuple[PlannedTaskRow, ...]) -> str:
    """Say what the finish hangs on, step by step."""
    if line is None:
        return ""
    names = {row.task_id: row.operation for row in rows}
    steps = [f"“{names[task]}”" for task in line.path if task in names]
    return ", then ".join(steps)


def _rivals_words(rows: tuple[PlannedTaskRow, ...]) -> str:
    """Name what is not on the path now and may well come to be."""
    return "; ".join(
        f"{row.operation} (in {row.critical_percent} of 100 cases)"
        for row in sorted(rows, key=lambda row: -row.critical_percent)
        if not row.is_on_path and row.critical_percent >= CRITICAL_OFTEN
    )
