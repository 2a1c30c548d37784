"""Work orders booked in, and their words corrected."""

from collections.abc import Mapping
from datetime import datetime

from django.db import transaction

from shop.actions._bench import check_bench_worker
from shop.actions._details import details_of, put
from shop.actions._numbers import next_number
from shop.actions._rows import locked, minor_digits, open_work_order
from shop.actions.history import Happening, record
from shop.domain.entries import altered, differences
from shop.domain.lifecycle import State
from shop.domain.refusals import Refusal
from shop.domain.roles import Act
from shop.domain.work_orders import COMPLAINT, Intake, WorkOrderText
from shop.models import Bike, User, WorkOrder

NOTHING_MORE = Intake()


@transaction.atomic
def book_in(
    *,
    bike_id: int,
    complaint: str,
    acting_user: User,
    at: datetime,
    intake: Intake = NOTHING_MORE,
) -> WorkOrder:
    """Book a bike in with the customer's complaint; its owner pays.

    Raises
    ------
    Refusal
        Words are missing, an amount is agreed without a name, or a row is unknown.
    """
    acting_user.demand(Act.BOOK_IN)
    words = COMPLAINT.clean(complaint)
    noted = intake.checked(minor_digits=minor_digits())
    _check_agreement(noted, acting_user)
    bike = locked(Bike.objects.all(), pk=bike_id, field="bike_id", name="bike")
    check_bench_worker(noted.technician_id)
    order = WorkOrder.objects.create(
        number=next_number("work_order", first=1001),
        bike=bike,
        customer_id=bike.owner_id,
        technician_id=noted.technician_id,
        state=State.BOOKED_IN.value,
        state_since=at,
        complaint=words,
        intake_notes=noted.intake_notes,
        promised_on=noted.promised_on,
        approved_amount=noted.approved_amount,
        approved_by_name=noted.approved_by_name,
        approved_how=noted.approved_how,
        approved_at=at if noted.approved_amount is not None else None,
        booked_in_at=at,
    )
    record(
        Happening(
            verb="work_order.booked_in",
            kind="work_order",
            subject_id=order.pk,
            work_order_id=order.pk,
            summary=f"{bike.name} booked in as {order.label}",
            new_state=State.BOOKED_IN,
        ),
        acting_user=acting_user,
        at=at,
    )
    return order


@transaction.atomic
def edit_work_order(
    *,
    work_order_id: int,
    changes: Mapping[str, object],
    acting_user: User,
    at: datetime,
) -> WorkOrder:
    """Correct the words of an open work order; `changes` is by field."""
    acting_user.demand(Act.EDIT_WORK_ORDER)
    order = open_work_order(work_order_id)
    old = details_of(order, WorkOrderText)
    new = altered(old, changes).checked()
    found = differences(old, new)
    if not found:
        return order
    if "technician_id" in found:
        check_bench_worker(new.technician_id)
    put(order, new, found)
    record(
        Happening(
            verb="work_order.edited",
            kind="work_order",
            subject_id=order.pk,
            work_order_id=order.pk,
            summary=f"{order.label} corrected",
            changes=found,
        ),
        acting_user=acting_user,
        at=at,
    )
    return order


def _check_agreement(noted: Intake, acting_user: User) -> None:
    if noted.approved_amount is None:
        return
    acting_user.demand(Act.RECORD_APPROVAL)
    if not noted.approved_by_name:
        raise Refusal(
            "approver-missing",
            "Enter the name of the person who agreed to the amount.",
            "approved_by_name",
        )
