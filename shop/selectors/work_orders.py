"""Work orders: the list, and one with everything on it."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from shop.domain.lifecycle import (
    ENDED,
    EVENT_ACTS,
    EVENT_LABELS,
    NEEDS_REASON,
    State,
    moves_from,
)
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer
from shop.models import WorkOrder
from shop.models.work_orders import WorkOrderQuerySet
from shop.seams import Panel, registry
from shop.selectors.advisories import AdvisoryRow, advisory_rows
from shop.selectors.bikes import BikeRow, bike_row
from shop.selectors.check_lists import CheckItemRow, check_item_rows
from shop.selectors.customers import CustomerRow, customer_row
from shop.selectors.history import HistoryRow, work_order_history
from shop.selectors.holds import HoldRow, hold_rows
from shop.selectors.labour import LabourRow, labour_rows
from shop.selectors.outside_work import OutsideRow, outside_rows
from shop.selectors.part_lines import PartLineRow, part_line_rows
from shop.selectors.shop_settings import ShopFacts, shop_facts
from shop.selectors.strip_tags import TagCounts, tag_counts
from shop.selectors.tasks import TaskRow, task_rows
from shop.selectors.totals import WorkOrderTotals, totals_of
from shop.selectors.windows import FIRST_ROWS, Listing, Window, listing
from shop.selectors.work_order_rows import WorkOrderRow, work_order_row


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkOrderFilter:
    """Which work orders are wanted; nothing set means all of them."""

    search: str = ""
    state: State | None = None
    open_only: bool = False
    bike_id: int | None = None
    customer_id: int | None = None
    technician_id: int | None = None


EVERY_WORK_ORDER = WorkOrderFilter()


@dataclass(frozen=True, slots=True, kw_only=True)
class MoveOption:
    """A move that the life cycle knows from here, and whether the viewer may."""

    event: str
    label: str
    needs_reason: bool
    allowed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkOrderPage:
    """One work order with everything on it."""

    order: WorkOrderRow
    is_open: bool
    intake_notes: str
    work_done: str
    estimate_amount: Decimal | None
    estimate_note: str
    approved_amount: Decimal | None
    approved_by_name: str
    approved_how: str
    approved_at: datetime | None
    bike: BikeRow
    customer: CustomerRow | None
    labour: tuple[LabourRow, ...]
    parts: tuple[PartLineRow, ...]
    outside_work: tuple[OutsideRow, ...]
    strip_tags: TagCounts
    tasks: tuple[TaskRow, ...]
    holds: tuple[HoldRow, ...]
    advisories: tuple[AdvisoryRow, ...]
    check_items: tuple[CheckItemRow, ...]
    totals: WorkOrderTotals
    over_approved: Decimal | None
    moves: tuple[MoveOption, ...]
    history: tuple[HistoryRow, ...]
    history_total: int
    panels: tuple[Panel, ...]


def work_order_list(
    *,
    viewer: Viewer,
    wanted: WorkOrderFilter = EVERY_WORK_ORDER,
    window: Window = FIRST_ROWS,
) -> Listing[WorkOrderRow]:
    """Return the wanted work orders, the newest first."""
    viewer.demand(Act.SEE_SHOP)
    found = _narrowed(wanted, viewer)
    return listing(
        found.with_people().latest_first(),
        window=window,
        row=lambda order: work_order_row(order, viewer),
    )


def work_order_page(*, work_order_id: int, viewer: Viewer) -> WorkOrderPage:
    """Return one work order with lines, sums, moves, time line and panels.

    Raises
    ------
    NotFound
        No such work order.
    """
    viewer.demand(Act.SEE_SHOP)
    order = (
        WorkOrder.objects.with_people()
        .select_related("bike__owner")
        .filter(pk=work_order_id)
        .first()
    )
    if order is None:
        raise NotFound("work-order-not-found", "There is no such work order.")
    shop = shop_facts()
    labour = labour_rows(work_order_id=work_order_id, shop=shop)
    parts = part_line_rows(work_order_id=work_order_id, shop=shop)
    outside = outside_rows(work_order_id=work_order_id, shop=shop)
    totals = totals_of(labour=labour, parts=parts, outside=outside, shop=shop)
    history = work_order_history(work_order_id=work_order_id, viewer=viewer)
    state = State(order.state)
    sees = viewer.may(Act.SEE_CUSTOMERS)
    approved = _minor(order.approved_amount, shop)
    return WorkOrderPage(
        order=work_order_row(order, viewer),
        is_open=state not in ENDED,
        intake_notes=order.intake_notes,
        work_done=order.work_done,
        estimate_amount=_minor(order.estimate_amount, shop),
        estimate_note=order.estimate_note,
        approved_amount=approved,
        approved_by_name=order.approved_by_name if sees else "",
        approved_how=order.approved_how,
        approved_at=order.approved_at,
        bike=bike_row(order.bike, viewer),
        customer=_customer(order, viewer),
        labour=labour,
        parts=parts,
        outside_work=outside,
        strip_tags=tag_counts(work_order_id=work_order_id),
        tasks=task_rows(work_order_id=work_order_id, viewer=viewer),
        holds=hold_rows(work_order_id=work_order_id, viewer=viewer),
        advisories=advisory_rows(work_order_id=work_order_id, viewer=viewer),
        check_items=check_item_rows(work_order_id=work_order_id, viewer=viewer),
        totals=totals,
        over_approved=_excess(totals.gross, approved),
        moves=_moves(state, viewer),
        history=history.rows,
        history_total=history.total,
        panels=registry.panels(work_order_id=work_order_id, viewer=viewer),
    )


def _narrowed(wanted: WorkOrderFilter, viewer: Viewer) -> WorkOrderQuerySet:
    found = _matching(wanted.search, viewer)
    if wanted.state is not None:
        found = found.in_state(wanted.state)
    if wanted.open_only:
        found = found.still_open()
    if wanted.bike_id is not None:
        found = found.of_bike(wanted.bike_id)
    if wanted.customer_id is not None:
        viewer.demand(Act.SEE_CUSTOMERS)
        found = found.of_customer(wanted.customer_id)
    if wanted.technician_id is not None:
        found = found.of_technician(wanted.technician_id)
    return found


def _matching(search: str, viewer: Viewer) -> WorkOrderQuerySet:
    if viewer.may(Act.SEE_CUSTOMERS):
        return WorkOrder.objects.matching_with_customer(search)
    return WorkOrder.objects.matching(search)


def _customer(order: WorkOrder, viewer: Viewer) -> CustomerRow | None:
    return customer_row(order.customer) if viewer.may(Act.SEE_CUSTOMERS) else None


def _minor(amount: Decimal | None, shop: ShopFacts) -> Decimal | None:
    return None if amount is None else shop.to_minor(amount)


def _excess(gross: Decimal, approved: Decimal | None) -> Decimal | None:
    return gross - approved if approved is not None and gross > approved else None


def _moves(state: State, viewer: Viewer) -> tuple[MoveOption, ...]:
    return tuple(
        MoveOption(
            event=event.value,
            label=EVENT_LABELS[event],
            needs_reason=event in NEEDS_REASON,
            allowed=viewer.may(EVENT_ACTS[event]),
        )
        for event in moves_from(state)
    )
