"""Clocks as pages and the API show them: who works on what, and since when."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from shop.domain.clocks import is_forgotten, likely_stop
from shop.domain.labour import LABOUR_KIND_LABELS, LabourKind, hours_and_minutes
from shop.domain.pricing import BILLING_LABELS, Billing
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer
from shop.models import Clock
from shop.models.clocks import ClockQuerySet
from shop.models.columns import row_id
from shop.selectors.shop_settings import ShopFacts, shop_facts

SECONDS_A_MINUTE = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class ClockRow:
    """One clock; `minutes` is what has run so far, or what ran until it stopped."""

    id: int
    task_id: int
    operation: str
    work_order_id: int
    order_label: str
    bike_name: str
    technician_id: int
    technician_name: str
    kind: str
    kind_label: str
    billing: str
    billing_label: str
    note: str
    hourly_rate: Decimal
    started_at: datetime
    stopped_at: datetime | None
    minutes: int
    time_text: str
    booked_minutes: int
    is_running: bool
    is_forgotten: bool
    likely_stop: datetime | None
    correction_reason: str


def running_clock(
    *, viewer: Viewer, at: datetime, shop: ShopFacts | None = None
) -> ClockRow | None:
    """Return the viewer's own running clock, if one runs; in one query with `shop`."""
    found = _whole(Clock.objects.running().of_technician(viewer.user_id)).first()
    if found is None:
        return None
    return clock_row(found, at=at, shop=shop or shop_facts())


def running_clocks(*, viewer: Viewer, at: datetime) -> tuple[ClockRow, ...]:
    """Return every running clock of the shop, the oldest first."""
    viewer.demand(Act.SEE_SHOP)
    shop = shop_facts()
    found = _whole(Clock.objects.running().oldest_first())
    return tuple(clock_row(clock, at=at, shop=shop) for clock in found)


def clock(*, clock_id: int, viewer: Viewer, at: datetime) -> ClockRow:
    """Return one clock.

    Raises
    ------
    NotFound
        No such clock.
    """
    viewer.demand(Act.SEE_SHOP)
    found = _whole(Clock.objects.filter(pk=row_id(clock_id))).first()
    if found is None:
        raise NotFound("clock-not-found", "There is no such clock.")
    return clock_row(found, at=at, shop=shop_facts())


def clock_blockers(*, work_order_id: int) -> tuple[str, ...]:
    """Return why a work order is not ready: somebody is still clocked on to it."""
    found = _whole(Clock.objects.running().of_work_order(work_order_id))
    return tuple(
        f"{clock.technician.name} is clocked on to “{clock.task.operation}”; "
        "stop that clock first."
        for clock in found.oldest_first()
    )


def clock_row(found: Clock, *, at: datetime, shop: ShopFacts) -> ClockRow:
    """Return a clock as a row; job, technician and sum must be fetched with it."""
    order = found.task.work_order
    running = found.stopped_at is None
    until = found.stopped_at or at
    minutes = int((until - found.started_at).total_seconds()) // SECONDS_A_MINUTE
    offered = _offered_stop(found, at, shop) if running else None
    return ClockRow(
        id=found.pk,
        task_id=found.task_id,
        operation=found.task.operation,
        work_order_id=order.pk,
        order_label=order.label,
        bike_name=order.bike.name,
        technician_id=found.technician_id,
        technician_name=found.technician.name,
        kind=found.kind,
        kind_label=LABOUR_KIND_LABELS[LabourKind(found.kind)],
        billing=found.billing,
        billing_label=BILLING_LABELS[Billing(found.billing)],
        note=found.note,
        hourly_rate=shop.to_minor(found.hourly_rate),
        started_at=found.started_at,
        stopped_at=found.stopped_at,
        minutes=minutes,
        time_text=hours_and_minutes(minutes),
        booked_minutes=getattr(found, "booked", None) or 0,
        is_running=running,
        is_forgotten=offered is not None,
        likely_stop=offered,
        correction_reason=found.correction_reason,
    )


def _offered_stop(found: Clock, at: datetime, shop: ShopFacts) -> datetime | None:
    """Return the stop to offer where the clock was forgotten."""
    zone, hours = shop.time_zone, shop.clock_limit_hours
    begun = found.started_at
    if not is_forgotten(started_at=begun, at=at, zone=zone, after_hours=hours):
        return None
    return likely_stop(started_at=begun, at=at, zone=zone, after_hours=hours)


def _whole(found: ClockQuerySet) -> ClockQuerySet:
    return found.with_job().with_booked()
