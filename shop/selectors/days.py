"""A technician's day: what was booked, what runs, what could be taken up next."""

from dataclasses import dataclass
from datetime import date, datetime

from django.db.models import Q

from shop.domain.labour import hours_and_minutes
from shop.domain.lifecycle import State
from shop.domain.pricing import BILLING_LABELS, Billing
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer
from shop.domain.tasks import TASK_STATE_LABELS, TaskState
from shop.models import LabourLine, Task
from shop.models.columns import row_id
from shop.selectors.clocks import ClockRow, running_clock
from shop.selectors.labour import labour_row
from shop.selectors.shop_settings import ShopFacts, shop_facts

MOST_TASKS = 30


@dataclass(frozen=True, slots=True, kw_only=True)
class DayEntry:
    """One labour line of the day, with the job it went into."""

    id: int
    work_order_id: int
    order_label: str
    bike_name: str
    description: str
    kind_label: str
    billing: str
    billing_label: str
    minutes: int
    time_text: str
    was_clocked: bool
    entry_reason: str
    is_void: bool
    void_reason: str
    booked_at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class DayShare:
    """How much of the day somebody bears."""

    billing: str
    label: str
    minutes: int
    time_text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskOffer:
    """A task that the viewer could clock on to."""

    id: int
    operation: str
    state_label: str
    labour_kind: str
    work_order_id: int
    order_label: str
    bike_name: str
    is_own: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class MyDay:
    """One local day of one technician."""

    day: date
    is_today: bool
    running: ClockRow | None
    entries: tuple[DayEntry, ...]
    shares: tuple[DayShare, ...]
    minutes: int
    time_text: str
    offers: tuple[TaskOffer, ...]


def my_day(*, viewer: Viewer, day: date, today: date, at: datetime) -> MyDay:
    """Return the viewer's own day, in four queries however long it was."""
    viewer.demand(Act.BOOK_LABOUR)
    shop = shop_facts()
    entries = _entries(viewer, day, shop)
    standing = [entry for entry in entries if not entry.is_void]
    minutes = sum(entry.minutes for entry in standing)
    return MyDay(
        day=day,
        is_today=day == today,
        running=running_clock(viewer=viewer, at=at, shop=shop),
        entries=entries,
        shares=tuple(_share(billing, standing) for billing in Billing),
        minutes=minutes,
        time_text=hours_and_minutes(minutes),
        offers=_offers(viewer),
    )


def task_offer(*, task_id: int, viewer: Viewer) -> TaskOffer:
    """Return one task as somebody who is about to clock on sees it.

    Raises
    ------
    NotFound
        No such task.
    """
    viewer.demand(Act.SEE_SHOP)
    found = Task.objects.select_related("work_order__bike")
    task = found.filter(pk=row_id(task_id)).first()
    if task is None:
        raise NotFound("task-not-found", "There is no such task.")
    return _offer(task, viewer)


def _entries(viewer: Viewer, day: date, shop: ShopFacts) -> tuple[DayEntry, ...]:
    found = LabourLine.objects.of_technician(viewer.user_id).done_on_day(day)
    lines = found.select_related("voided_by", "work_order__bike")
    return tuple(_entry(line, shop) for line in lines)


def _entry(line: LabourLine, shop: ShopFacts) -> DayEntry:
    row = labour_row(line, shop)
    return DayEntry(
        id=row.id,
        work_order_id=row.work_order_id,
        order_label=line.work_order.label,
        bike_name=line.work_order.bike.name,
        description=row.description,
        kind_label=row.kind_label,
        billing=row.billing,
        billing_label=row.billing_label,
        minutes=row.minutes,
        time_text=row.time_text,
        was_clocked=row.clock_id is not None,
        entry_reason=row.entry_reason,
        is_void=row.is_void,
        void_reason=row.void_reason,
        booked_at=row.created_at,
    )


def _share(billing: Billing, standing: list[DayEntry]) -> DayShare:
    minutes = sum(entry.minutes for entry in standing if entry.billing == billing.value)
    return DayShare(
        billing=billing.value,
        label=BILLING_LABELS[billing],
        minutes=minutes,
        time_text=hours_and_minutes(minutes),
    )


def _offers(viewer: Viewer) -> tuple[TaskOffer, ...]:
    """Return open tasks on the bench, the viewer's own and those under way first."""
    found = (
        Task.objects.still_open()
        .filter(Q(technician_id=viewer.user_id) | Q(technician__isnull=True))
        .filter(work_order__state=State.ON_THE_BENCH.value)
        .select_related("work_order__bike")
        .in_order()[:MOST_TASKS]
    )
    offers = [_offer(task, viewer) for task in found]
    return tuple(sorted(offers, key=lambda offer: not offer.is_own))


def _offer(task: Task, viewer: Viewer) -> TaskOffer:
    order = task.work_order
    return TaskOffer(
        id=task.pk,
        operation=task.operation,
        state_label=TASK_STATE_LABELS[TaskState(task.state)],
        labour_kind=task.labour_kind,
        work_order_id=order.pk,
        order_label=order.label,
        bike_name=order.bike.name,
        is_own=task.technician_id == viewer.user_id,
    )
