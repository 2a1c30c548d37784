"""What the report of one work order is made of, read in a handful of queries."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from shop.domain.bikes import EarthPolarity
from shop.domain.lifecycle import State
from shop.domain.refusals import NotFound
from shop.models import Bike, WorkOrder
from shop.selectors.labour import LabourRow, labour_rows
from shop.selectors.outside_work import OutsideRow, outside_rows
from shop.selectors.part_lines import PartLineRow, part_line_rows
from shop.selectors.shop_settings import ShopFacts, shop_facts
from shop.selectors.totals import WorkOrderTotals, totals_of


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomerFacts:
    """The customer that the report is for."""

    name: str
    address: str
    tax_number: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BikeFacts:
    """The bike that was worked on."""

    maker: str
    model: str
    year: int | None
    registration: str
    frame_number: str
    engine_number: str
    colour: str
    system_volts: int
    earth: EarthPolarity


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderFacts:
    """The work order itself."""

    label: str
    state: State
    complaint: str
    intake_notes: str
    work_done: str
    booked_in_at: datetime
    estimate_amount: Decimal | None
    approved_amount: Decimal | None
    approved_by_name: str
    approved_how: str
    approved_at: datetime | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportFacts:
    """Everything the shop itself has to say about one work order."""

    work_order_id: int
    shop: ShopFacts
    customer: CustomerFacts
    bike: BikeFacts
    order: OrderFacts
    labour: tuple[LabourRow, ...]
    parts: tuple[PartLineRow, ...]
    outside_work: tuple[OutsideRow, ...]
    totals: WorkOrderTotals


def report_facts(*, work_order_id: int) -> ReportFacts:
    """Return the facts as they stand now; what was voided is left out.

    Raises
    ------
    NotFound
        There is no such work order.
    """
    order = WorkOrder.objects.with_people().filter(pk=work_order_id).first()
    if order is None:
        raise NotFound("work-order-not-found", "There is no such work order.")
    shop = shop_facts()
    labour = labour_rows(work_order_id=work_order_id, shop=shop)
    parts = part_line_rows(work_order_id=work_order_id, shop=shop)
    outside = outside_rows(work_order_id=work_order_id, shop=shop)
    return ReportFacts(
        work_order_id=work_order_id,
        shop=shop,
        customer=CustomerFacts(
            name=order.customer.name,
            address=order.customer.address,
            tax_number=order.customer.tax_number,
        ),
        bike=_bike(order.bike),
        order=_order(order),
        labour=tuple(row for row in labour if not row.is_void),
        parts=tuple(row for row in parts if not row.is_void),
        outside_work=tuple(row for row in outside if not row.is_dropped),
        totals=totals_of(labour=labour, parts=parts, outside=outside, shop=shop),
    )


def _bike(bike: Bike) -> BikeFacts:
    return BikeFacts(
        maker=bike.maker,
        model=bike.model,
        year=bike.year,
        registration=bike.registration,
        frame_number=bike.frame_number,
        engine_number=bike.engine_number,
        colour=bike.colour,
        system_volts=bike.system_volts,
        earth=EarthPolarity(bike.earth),
    )


def _order(order: WorkOrder) -> OrderFacts:
    return OrderFacts(
        label=order.label,
        state=State(order.state),
        complaint=order.complaint,
        intake_notes=order.intake_notes,
        work_done=order.work_done,
        booked_in_at=order.booked_in_at,
        estimate_amount=order.estimate_amount,
        approved_amount=order.approved_amount,
        approved_by_name=order.approved_by_name,
        approved_how=order.approved_how,
        approved_at=order.approved_at,
    )
