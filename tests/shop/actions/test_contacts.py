"""Further people to reach for a customer."""

import pytest

from shop.actions.contacts import add_contact, edit_contact, retire_contact
from shop.domain.contacts import ContactDetails
from shop.domain.refusals import IllegalMove, NotAllowed, Refusal
from shop.models import Contact, HistoryEntry
from tests.builders import MORNING, CustomerFactory, FrontDeskFactory, UserFactory

pytestmark = pytest.mark.django_db

JO = ContactDetails(name="Jo Fenn", relation="daughter", phone="0555 010 201")


def add(customer_id: int) -> Contact:
    return add_contact(
        customer_id=customer_id, details=JO, acting_user=FrontDeskFactory(), at=MORNING
    )


def test_a_daughter_can_be_rung_too() -> None:
    customer = CustomerFactory()
    contact = add(customer.pk)
    assert (contact.customer, contact.preferred) == (customer, "phone")
    told = HistoryEntry.objects.get()
    assert (told.subject_kind, told.subject_id) == ("customer", customer.pk)


def test_mail_cannot_be_preferred_without_an_address() -> None:
    contact = add(CustomerFactory().pk)
    with pytest.raises(Refusal) as refused:
        edit_contact(
            contact_id=contact.pk,
            changes={"preferred": "email"},
            acting_user=FrontDeskFactory(),
            at=MORNING,
        )
    assert (refused.value.code, refused.value.field) == (
        "preferred-way-missing",
        "email",
    )
    contact.refresh_from_db()
    assert contact.preferred == "phone"


def test_a_number_is_corrected_and_told() -> None:
    contact = add(CustomerFactory().pk)
    edit_contact(
        contact_id=contact.pk,
        changes={"phone": "0555 010 209"},
        acting_user=FrontDeskFactory(),
        at=MORNING,
    )
    told = HistoryEntry.objects.latest_first()[0]
    assert told.changes == {"phone": ["0555 010 201", "0555 010 209"]}


def test_a_contact_is_taken_out_of_use_once() -> None:
    contact = add(CustomerFactory().pk)
    desk = FrontDeskFactory()
    retire_contact(contact_id=contact.pk, acting_user=desk, at=MORNING)
    assert not Contact.objects.in_use().exists()
    with pytest.raises(IllegalMove):
        retire_contact(contact_id=contact.pk, acting_user=desk, at=MORNING)


def test_a_technician_writes_down_no_contact() -> None:
    with pytest.raises(NotAllowed):
        add_contact(
            customer_id=CustomerFactory().pk,
            details=JO,
            acting_user=UserFactory(),
            at=MORNING,
        )
