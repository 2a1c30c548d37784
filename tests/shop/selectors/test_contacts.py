"""A customer's further contacts."""

import pytest

from shop.actions.contacts import add_contact, retire_contact
from shop.domain.contacts import ContactDetails
from shop.domain.refusals import NotAllowed, NotFound
from shop.models import Contact
from shop.selectors.contacts import contact, contacts_of_customer
from tests.builders import (
    MORNING,
    CustomerFactory,
    FrontDeskFactory,
    StorekeeperFactory,
)

pytestmark = pytest.mark.django_db


def add(customer_id: int, name: str) -> Contact:
    return add_contact(
        customer_id=customer_id,
        details=ContactDetails(name=name, preferred="letter"),
        acting_user=FrontDeskFactory(),
        at=MORNING,
    )


def test_contacts_in_use_stand_by_name_with_their_preferred_way() -> None:
    customer, desk = CustomerFactory(), FrontDeskFactory()
    add(customer.pk, "Rowan"), add(customer.pk, "Ada"), add(CustomerFactory().pk, "Bo")
    gone = add(customer.pk, "Cid")
    retire_contact(contact_id=gone.pk, acting_user=desk, at=MORNING)
    found = contacts_of_customer(customer_id=customer.pk, viewer=desk.as_viewer())
    assert [(row.name, row.preferred_label) for row in found] == [
        ("Ada", "Letter"),
        ("Rowan", "Letter"),
    ]


def test_an_unknown_contact_is_not_found() -> None:
    with pytest.raises(NotFound):
        contact(contact_id=404, viewer=FrontDeskFactory().as_viewer())


def test_the_storekeeper_reaches_nobody() -> None:
    row = add(CustomerFactory().pk, "Ada")
    with pytest.raises(NotAllowed):
        contact(contact_id=row.pk, viewer=StorekeeperFactory().as_viewer())
