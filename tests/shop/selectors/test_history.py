"""The time line of a work order, and of anything else."""

from decimal import Decimal

import pytest
from pytest_django import DjangoAssertNumQueries

from shop.actions.customers import edit_customer
from shop.actions.moves import move_work_order
from shop.domain.lifecycle import Event
from shop.domain.refusals import NotAllowed, NotFound
from shop.domain.work_orders import Particulars
from shop.selectors.history import subject_history, work_order_history
from shop.selectors.work_orders import work_order_page
from tests.builders import (
    MORNING,
    CustomerFactory,
    FrontDeskFactory,
    OwnerFactory,
    StorekeeperFactory,
    WorkOrderFactory,
)

pytestmark = pytest.mark.django_db


def test_the_newest_stands_first_with_states_in_words(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    order, owner = WorkOrderFactory(state="on_the_bench"), OwnerFactory()
    for event, reason in ((Event.WAIT, "a rotor"), (Event.RESUME, "")):
        move_work_order(
            work_order_id=order.pk,
            event=event,
            particulars=Particulars(reason=reason),
            acting_user=owner,
            at=MORNING,
        )
    with django_assert_num_queries(2):
        found = work_order_history(work_order_id=order.pk, viewer=owner.as_viewer())
    assert [row.summary for row in found.rows] == [
        "Taken up again",
        "Released (parts): a rotor",
        "Put on hold",
        "Held (parts): a rotor",
    ]
    waiting = found.rows[2]
    assert (waiting.old_state_label, waiting.new_state_label) == (
        "On the bench",
        "Waiting",
    )
    assert (waiting.reason, waiting.actor_name) == ("a rotor", owner.name)


def test_a_correction_is_read_with_before_and_after() -> None:
    customer, desk = CustomerFactory(name="Ada Fen"), FrontDeskFactory()
    edit_customer(
        customer_id=customer.pk,
        changes={"name": "Ada Fenn"},
        acting_user=desk,
        at=MORNING,
    )
    found = subject_history(
        kind="customer", subject_id=customer.pk, viewer=desk.as_viewer()
    )
    (row,) = found.rows
    assert row.changes == (("name", "Ada Fen", "Ada Fenn"),)
    assert row.new_state_label == ""


def test_a_work_order_that_does_not_exist_has_no_time_line() -> None:
    viewer = OwnerFactory().as_viewer()
    with pytest.raises(NotFound):
        work_order_history(work_order_id=404, viewer=viewer)
    order = WorkOrderFactory()
    assert work_order_history(work_order_id=order.pk, viewer=viewer).total == 0


def test_who_may_see_no_customers_reads_no_names_in_the_time_line() -> None:
    order = WorkOrderFactory(state="awaiting_approval", estimate_amount=Decimal(90))
    desk, keeper = FrontDeskFactory(), StorekeeperFactory().as_viewer()
    move_work_order(
        work_order_id=order.pk,
        event=Event.APPROVE,
        particulars=Particulars(approved_by_name="Ada Fenn"),
        acting_user=desk,
        at=MORNING,
    )
    (told,) = work_order_history(work_order_id=order.pk, viewer=desk.as_viewer()).rows
    assert told.changes == (("approved_by_name", "", "Ada Fenn"),)
    (hidden,) = work_order_history(work_order_id=order.pk, viewer=keeper).rows
    assert "Ada Fenn" not in str(hidden)
    assert "Ada Fenn" not in str(work_order_page(work_order_id=order.pk, viewer=keeper))
    with pytest.raises(NotAllowed):
        subject_history(kind="bike", subject_id=order.bike_id, viewer=keeper)
    assert subject_history(kind="part", subject_id=1, viewer=keeper).total == 0
