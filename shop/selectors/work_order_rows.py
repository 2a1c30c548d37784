"""Work orders as rows of a list, wherever one is shown."""

from dataclasses import dataclass
from datetime import date, datetime

from shop.domain.lifecycle import STATE_LABELS, State
from shop.domain.roles import Act, Viewer
from shop.models import WorkOrder
from shop.models.work_orders import WorkOrderQuerySet
from shop.selectors.windows import MOST_ROWS


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkOrderRow:
    """One work order in a list; the customer is empty for who may not see any."""

    id: int
    number: int
    label: str
    state: str
    state_label: str
    state_since: datetime
    complaint: str
    waiting_for: str
    promised_on: date | None
    booked_in_at: datetime
    ended_at: datetime | None
    bike_id: int
    bike_name: str
    registration: str
    customer_id: int | None
    customer_name: str
    technician_id: int | None
    technician_name: str


def work_order_row(order: WorkOrder, viewer: Viewer) -> WorkOrderRow:
    """Return a work order as a row; its people must have been fetched with it."""
    sees = viewer.may(Act.SEE_CUSTOMERS)
    return WorkOrderRow(
        id=order.pk,
        number=order.number,
        label=order.label,
        state=order.state,
        state_label=STATE_LABELS[State(order.state)],
        state_since=order.state_since,
        complaint=order.complaint,
        waiting_for=order.waiting_for,
        promised_on=order.promised_on,
        booked_in_at=order.booked_in_at,
        ended_at=order.ended_at,
        bike_id=order.bike_id,
        bike_name=order.bike.name,
        registration=order.bike.registration,
        customer_id=order.customer_id if sees else None,
        customer_name=order.customer.name if sees else "",
        technician_id=order.technician_id,
        technician_name=order.technician.name if order.technician else "",
    )


def work_orders_of_bike(*, bike_id: int, viewer: Viewer) -> tuple[WorkOrderRow, ...]:
    """Return the work orders on a bike, the newest first."""
    return _rows(WorkOrder.objects.of_bike(bike_id), viewer)


def open_orders_of_bike(*, bike_id: int, viewer: Viewer) -> tuple[WorkOrderRow, ...]:
    """Return the work orders on a bike that have not ended, the newest first."""
    return _rows(WorkOrder.objects.of_bike(bike_id).still_open(), viewer)


def work_orders_of_customer(
    *, customer_id: int, viewer: Viewer
) -> tuple[WorkOrderRow, ...]:
    """Return the work orders that a customer pays for, the newest first."""
    return _rows(WorkOrder.objects.of_customer(customer_id), viewer)


def _rows(found: WorkOrderQuerySet, viewer: Viewer) -> tuple[WorkOrderRow, ...]:
    latest = found.with_people().latest_first()[:MOST_ROWS]
    return tuple(work_order_row(order, viewer) for order in latest)
