"""Customers are taken on and corrected."""

import pytest

from shop.actions.customers import add_customer, edit_customer
from shop.domain.customers import CustomerDetails
from shop.domain.refusals import NotAllowed, NotFound, Refusal
from shop.models import Customer, HistoryEntry
from tests.builders import (
    MORNING,
    CustomerFactory,
    FrontDeskFactory,
    StorekeeperFactory,
)

pytestmark = pytest.mark.django_db


def test_the_front_desk_takes_on_a_customer() -> None:
    customer = add_customer(
        details=CustomerDetails(name=" Ada Fenn ", phone="0555 010 200"),
        acting_user=FrontDeskFactory(),
        at=MORNING,
    )
    customer.refresh_from_db()
    assert (customer.name, customer.created_at) == ("Ada Fenn", MORNING)
    entry = HistoryEntry.objects.of_subject("customer", customer.pk).get()
    assert entry.summary == "Ada Fenn taken on as a customer"


def test_the_storekeeper_takes_on_nobody() -> None:
    with pytest.raises(NotAllowed):
        add_customer(
            details=CustomerDetails(name="Ada Fenn"),
            acting_user=StorekeeperFactory(),
            at=MORNING,
        )
    assert not Customer.objects.exists()


def test_somebody_whose_account_is_closed_does_nothing_more() -> None:
    with pytest.raises(NotAllowed, match="closed"):
        add_customer(
            details=CustomerDetails(name="Ada Fenn"),
            acting_user=FrontDeskFactory(is_active=False),
            at=MORNING,
        )


def test_a_correction_tells_what_it_changed() -> None:
    customer = CustomerFactory(phone="0555 010 200")
    edit_customer(
        customer_id=customer.pk,
        changes={"phone": "0555 010 299", "name": customer.name},
        acting_user=FrontDeskFactory(),
        at=MORNING,
    )
    customer.refresh_from_db()
    assert customer.phone == "0555 010 299"
    entry = HistoryEntry.objects.get()
    assert entry.changes == {"phone": ["0555 010 200", "0555 010 299"]}


def test_a_correction_that_changes_nothing_leaves_no_row() -> None:
    customer = CustomerFactory()
    edit_customer(
        customer_id=customer.pk,
        changes={"name": customer.name},
        acting_user=FrontDeskFactory(),
        at=MORNING,
    )
    assert not HistoryEntry.objects.exists()


def test_a_bad_correction_changes_nothing() -> None:
    customer = CustomerFactory(phone="0555 010 200")
    with pytest.raises(Refusal):
        edit_customer(
            customer_id=customer.pk,
            changes={"phone": "1", "email": "nowhere"},
            acting_user=FrontDeskFactory(),
            at=MORNING,
        )
    customer.refresh_from_db()
    assert customer.phone == "0555 010 200"


@pytest.mark.parametrize("customer_id", [0, 404, 10**30])
def test_an_unknown_customer_cannot_be_corrected(customer_id: int) -> None:
    with pytest.raises(NotFound):
        edit_customer(
            customer_id=customer_id,
            changes={"name": "Nobody"},
            acting_user=FrontDeskFactory(),
            at=MORNING,
        )
