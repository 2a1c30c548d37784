"""Outside work: what is out, what is late, and what it adds to a work order."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from shop.domain.lifecycle import ENDED, State
from shop.domain.outside_work import (
    CHECK_RESULT_LABELS,
    OUTSIDE_EVENT_LABELS,
    OUTSIDE_MOVES,
    OUTSIDE_STATE_LABELS,
    CheckResult,
    OutsideState,
    is_overdue,
    outside_net,
)
from shop.domain.pricing import PricedLine
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer
from shop.domain.suppliers import TRADE_LABELS, Trade
from shop.models import OutsideTag, OutsideWork
from shop.selectors.shop_settings import ShopFacts, shop_facts
from shop.selectors.strip_tags import StripTagRow, strip_tag_row
from shop.selectors.windows import FIRST_ROWS, Listing, Window, listing

MOST_ROWS = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class OutsideRow:
    """One piece of outside work, priced."""

    id: int
    number: int
    label: str
    work_order_id: int
    work_order_label: str
    bike_name: str
    supplier_id: int
    supplier_name: str
    trade: str
    trade_label: str
    description: str
    state: str
    state_label: str
    sent_on: date | None
    promised_on: date | None
    back_on: date | None
    days_late: int
    quote_amount: Decimal | None
    cost_amount: Decimal | None
    markup_percent: Decimal
    net: Decimal
    is_final: bool
    tax_label: str
    tax_percent: Decimal
    notes: str
    is_dropped: bool
    is_open: bool
    created_at: datetime

    @property
    def is_overdue(self) -> bool:
        """Say whether it should have been back before today."""
        return self.days_late > 0

    def priced(self) -> PricedLine:
        """Return what the line adds to the totals."""
        return PricedLine(self.net, self.tax_label, self.tax_percent)


@dataclass(frozen=True, slots=True, kw_only=True)
class OutingRow:
    """One tag on it, and what its check said when it came back."""

    tag: StripTagRow
    result: str
    result_label: str
    note: str
    checked_at: datetime | None
    checked_by_name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OutsidePage:
    """One piece of outside work with its tags."""

    work: OutsideRow
    tags: tuple[OutingRow, ...]
    events: tuple[str, ...]

    @property
    def to_come(self) -> tuple[OutingRow, ...]:
        """The tags that have not been booked back."""
        return tuple(row for row in self.tags if not row.result)


@dataclass(frozen=True, slots=True, kw_only=True)
class OutsideFilter:
    """Which outside work is wanted; nothing set means all of it."""

    search: str = ""
    state: OutsideState | None = None
    supplier_id: int | None = None
    overdue_only: bool = False


ALL_OUTSIDE_WORK = OutsideFilter()


def outside_list(
    *,
    viewer: Viewer,
    today: date,
    wanted: OutsideFilter = ALL_OUTSIDE_WORK,
    window: Window = FIRST_ROWS,
) -> Listing[OutsideRow]:
    """Return the wanted outside work, what is due soonest first."""
    viewer.demand(Act.SEE_SHOP)
    shop = shop_facts()
    found = OutsideWork.objects.matching(wanted.search)
    if wanted.state is not None:
        found = found.in_state(wanted.state)
    if wanted.supplier_id is not None:
        found = found.of_supplier(wanted.supplier_id)
    if wanted.overdue_only:
        found = found.overdue(today)
    return listing(
        found.with_places().soonest_first(),
        window=window,
        row=lambda work: outside_row(work, shop=shop, today=today),
    )


def overdue_outside_work(*, viewer: Viewer, today: date) -> tuple[OutsideRow, ...]:
    """Return what should have been back before today, the latest of all first."""
    wanted = OutsideFilter(overdue_only=True)
    return outside_list(viewer=viewer, today=today, wanted=wanted).rows


def outside_page(*, outside_work_id: int, viewer: Viewer, today: date) -> OutsidePage:
    """Return one piece of outside work with its tags, in three queries.

    Raises
    ------
    NotFound
        No such outside work.
    """
    viewer.demand(Act.SEE_SHOP)
    work = OutsideWork.objects.with_places().filter(pk=outside_work_id).first()
    if work is None:
        raise NotFound("outside-work-not-found", "There is no such outside work.")
    outings = OutsideTag.objects.of_outside_work(work.pk).select_related(
        "tag__work_order__bike", "tag__supplier", "checked_by"
    )
    row = outside_row(work, shop=shop_facts(), today=today)
    return OutsidePage(
        work=row,
        tags=tuple(_outing(outing, viewer) for outing in outings),
        events=_events(row),
    )


def outside_rows(*, work_order_id: int, shop: ShopFacts) -> tuple[OutsideRow, ...]:
    """Return all outside work of a work order, dropped too, in one query.

    None of it counts as late: whoever shows it knows what day it is.
    """
    found = OutsideWork.objects.of_work_order(work_order_id).with_places()
    return tuple(outside_row(work, shop=shop, today=None) for work in found[:MOST_ROWS])


def unsettled_outside_work(*, work_order_id: int) -> tuple[str, ...]:
    """Return what is planned or away still, or back without its cost."""
    found = OutsideWork.objects.of_work_order(work_order_id).with_places()
    return tuple(
        f"{work} ({_why_unsettled(work)})" for work in found if _why_unsettled(work)
    )


def _why_unsettled(work: OutsideWork) -> str:
    state = OutsideState(work.state)
    if state is OutsideState.AWAY:
        return f"away at {work.supplier.name}"
    if state is OutsideState.PLANNED:
        return "planned, neither sent nor dropped"
    if state is OutsideState.BACK and work.cost_amount is None:
        return "back, but its cost is not entered"
    return ""


def outside_row(
    work: OutsideWork, *, shop: ShopFacts, today: date | None
) -> OutsideRow:
    """Return outside work as a row; order, bike and supplier must be fetched."""
    state = OutsideState(work.state)
    priced = _priced(work, shop)
    order = work.work_order
    return OutsideRow(
        id=work.pk,
        number=work.number,
        label=work.label,
        work_order_id=order.pk,
        work_order_label=order.label,
        bike_name=order.bike.name,
        supplier_id=work.supplier_id,
        supplier_name=work.supplier.name,
        trade=work.trade,
        trade_label=TRADE_LABELS[Trade(work.trade)],
        description=work.description,
        state=work.state,
        state_label=OUTSIDE_STATE_LABELS[state],
        sent_on=work.sent_on,
        promised_on=work.promised_on,
        back_on=work.back_on,
        days_late=_days_late(work, today),
        quote_amount=_minor(work.quote_amount, shop),
        cost_amount=_minor(work.cost_amount, shop),
        markup_percent=work.markup_percent,
        net=priced.net,
        is_final=work.cost_amount is not None,
        tax_label=work.tax_label,
        tax_percent=work.tax_percent,
        notes=work.notes,
        is_dropped=state is OutsideState.DROPPED,
        is_open=State(order.state) not in ENDED,
        created_at=work.created_at,
    )


def _days_late(work: OutsideWork, today: date | None) -> int:
    if today is None or work.promised_on is None:
        return 0
    late = is_overdue(OutsideState(work.state), work.promised_on, today=today)
    return (today - work.promised_on).days if late else 0


def _priced(work: OutsideWork, shop: ShopFacts) -> PricedLine:
    return PricedLine(
        outside_net(
            quote=work.quote_amount,
            cost=work.cost_amount,
            markup_percent=work.markup_percent,
            minor_digits=shop.minor_digits,
        ),
        work.tax_label,
        work.tax_percent,
    )


def _outing(outing: OutsideTag, viewer: Viewer) -> OutingRow:
    label = CHECK_RESULT_LABELS[CheckResult(outing.result)] if outing.result else ""
    return OutingRow(
        tag=strip_tag_row(outing.tag, viewer),
        result=outing.result,
        result_label=label,
        note=outing.note,
        checked_at=outing.checked_at,
        checked_by_name=outing.checked_by.name if outing.checked_by else "",
    )


def _events(row: OutsideRow) -> tuple[str, ...]:
    if not row.is_open:
        return ()
    return tuple(
        event.value
        for event in OUTSIDE_EVENT_LABELS
        if (OutsideState(row.state), event) in OUTSIDE_MOVES
    )


def _minor(amount: Decimal | None, shop: ShopFacts) -> Decimal | None:
    return None if amount is None else shop.to_minor(amount)
