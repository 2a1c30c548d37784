"""Bikes are booked in, and the words on a work order corrected."""

from datetime import date
from decimal import Decimal

import pytest

from shop.actions.work_orders import book_in, edit_work_order
from shop.domain.refusals import IllegalMove, NotAllowed, NotFound, Refusal
from shop.domain.work_orders import Intake
from shop.models import HistoryEntry, WorkOrder
from tests.builders import (
    MORNING,
    BikeFactory,
    FrontDeskFactory,
    StorekeeperFactory,
    UserFactory,
    WorkOrderFactory,
)

pytestmark = pytest.mark.django_db


def test_a_bike_is_booked_in_under_the_next_number() -> None:
    bike = BikeFactory()
    desk = FrontDeskFactory()
    first, second = (
        book_in(bike_id=bike.pk, complaint=" No spark. ", acting_user=desk, at=MORNING)
        for _ in range(2)
    )
    assert (first.label, second.label) == ("WO-1001", "WO-1002")
    first.refresh_from_db()
    assert first.complaint == "No spark."
    assert (first.customer, first.state) == (bike.owner, "booked_in")
    entry = HistoryEntry.objects.of_work_order(first.pk).get()
    assert (entry.verb, entry.new_state) == ("work_order.booked_in", "booked_in")


def test_what_was_agreed_at_the_counter_is_kept_with_who_and_when() -> None:
    mo = UserFactory()
    order = book_in(
        bike_id=BikeFactory().pk,
        complaint="No spark.",
        intake=Intake(
            intake_notes="Tank empty, 41 203 on the clock",
            promised_on=date(2026, 3, 20),
            technician_id=mo.pk,
            approved_amount=Decimal("150.00"),
            approved_by_name="Ada Fenn",
            approved_how="at the counter",
        ),
        acting_user=FrontDeskFactory(),
        at=MORNING,
    )
    order.refresh_from_db()
    assert order.technician == mo
    assert (order.approved_amount, order.approved_at) == (Decimal(150), MORNING)


@pytest.mark.parametrize(
    ("intake", "code"),
    [
        (Intake(approved_amount=Decimal(100)), "approver-missing"),
        (Intake(technician_id=404), "technician-not-found"),
        (Intake(intake_notes="\x00"), "text-unreadable"),
    ],
)
def test_a_booking_that_does_not_hold_together_leaves_nothing(
    intake: Intake, code: str
) -> None:
    with pytest.raises(Refusal) as refused:
        book_in(
            bike_id=BikeFactory().pk,
            complaint="No spark.",
            intake=intake,
            acting_user=FrontDeskFactory(),
            at=MORNING,
        )
    assert refused.value.code == code
    assert not WorkOrder.objects.exists()
    assert not HistoryEntry.objects.exists()


def test_a_number_whose_booking_failed_is_given_out_again() -> None:
    bike, desk = BikeFactory(), FrontDeskFactory()
    with pytest.raises(NotFound):
        book_in(bike_id=404, complaint="No spark.", acting_user=desk, at=MORNING)
    order = book_in(
        bike_id=bike.pk, complaint="No spark.", acting_user=desk, at=MORNING
    )
    assert order.number == 1001


def test_nobody_is_put_on_a_work_order_who_does_not_work_at_the_bench() -> None:
    order = WorkOrderFactory()
    for person in (StorekeeperFactory(), UserFactory(is_active=False)):
        with pytest.raises(NotFound) as refused:
            edit_work_order(
                work_order_id=order.pk,
                changes={"technician_id": person.pk},
                acting_user=FrontDeskFactory(),
                at=MORNING,
            )
        assert refused.value.field == "technician_id"


def test_a_technician_cannot_agree_on_money_for_the_customer() -> None:
    with pytest.raises(NotAllowed):
        book_in(
            bike_id=BikeFactory().pk,
            complaint="No spark.",
            intake=Intake(approved_amount=Decimal(90), approved_by_name="Ada Fenn"),
            acting_user=UserFactory(),
            at=MORNING,
        )


def test_what_was_done_is_written_while_the_order_is_open() -> None:
    order, mo = WorkOrderFactory(state="on_the_bench"), UserFactory()
    edit_work_order(
        work_order_id=order.pk,
        changes={"work_done": "New earth strap.", "technician_id": mo.pk},
        acting_user=mo,
        at=MORNING,
    )
    order.refresh_from_db()
    assert (order.work_done, order.technician) == ("New earth strap.", mo)
    assert set(HistoryEntry.objects.get().changes) == {"work_done", "technician_id"}


@pytest.mark.parametrize("state", ["closed", "called_off"])
def test_an_ended_work_order_is_not_written_on(state: str) -> None:
    order = WorkOrderFactory(state=state)
    with pytest.raises(IllegalMove) as refused:
        edit_work_order(
            work_order_id=order.pk,
            changes={"work_done": "More."},
            acting_user=UserFactory(),
            at=MORNING,
        )
    assert refused.value.code == "work-order-ended"
