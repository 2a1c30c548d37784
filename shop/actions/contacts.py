"""Further people to reach for a customer: added, corrected, taken out of use."""

from collections.abc import Mapping
from dataclasses import asdict
from datetime import datetime

from django.db import transaction

from shop.actions._details import details_of, put
from shop.actions._rows import locked
from shop.actions.history import Happening, record
from shop.domain.contacts import ContactDetails
from shop.domain.entries import altered, differences
from shop.domain.refusals import IllegalMove
from shop.domain.roles import Act
from shop.models import Contact, Customer, User


@transaction.atomic
def add_contact(
    *, customer_id: int, details: ContactDetails, acting_user: User, at: datetime
) -> Contact:
    """Write down a further way to reach a customer."""
    acting_user.demand(Act.KEEP_CUSTOMERS)
    tidy = details.checked()
    customer = locked(
        Customer.objects.all(), pk=customer_id, field="customer_id", name="customer"
    )
    contact = Contact.objects.create(customer=customer, created_at=at, **asdict(tidy))
    record(
        _told(contact, "contact.added", f"{contact.name} written down as a contact"),
        acting_user=acting_user,
        at=at,
    )
    return contact


@transaction.atomic
def edit_contact(
    *,
    contact_id: int,
    changes: Mapping[str, object],
    acting_user: User,
    at: datetime,
) -> Contact:
    """Correct some of a contact's details; `changes` is by field."""
    acting_user.demand(Act.KEEP_CUSTOMERS)
    contact = _contact(contact_id)
    old = details_of(contact, ContactDetails)
    new = altered(old, changes).checked()
    found = differences(old, new)
    if not found:
        return contact
    put(contact, new, found)
    record(
        _told(contact, "contact.edited", f"Contact {contact.name} corrected", found),
        acting_user=acting_user,
        at=at,
    )
    return contact


@transaction.atomic
def retire_contact(*, contact_id: int, acting_user: User, at: datetime) -> Contact:
    """Take a contact out of use; it is not shown any more.

    Raises
    ------
    IllegalMove
        It is out of use already.
    """
    acting_user.demand(Act.KEEP_CUSTOMERS)
    contact = _contact(contact_id)
    if Contact.objects.in_use().filter(pk=contact.pk).update(retired_at=at) != 1:
        raise IllegalMove("contact-retired", "This contact is out of use already.")
    record(
        _told(contact, "contact.retired", f"Contact {contact.name} taken out of use"),
        acting_user=acting_user,
        at=at,
    )
    contact.refresh_from_db()
    return contact


def _contact(contact_id: int) -> Contact:
    return locked(
        Contact.objects.all(), pk=contact_id, field="contact_id", name="contact"
    )


def _told(
    contact: Contact,
    verb: str,
    summary: str,
    changes: Mapping[str, tuple[str, str]] | None = None,
) -> Happening:
    return Happening(
        verb=verb,
        kind="customer",
        subject_id=contact.customer_id,
        summary=summary,
        changes=changes,
    )
