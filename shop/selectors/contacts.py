"""Further people to reach for a customer."""

from dataclasses import dataclass
from datetime import datetime

from shop.domain.contacts import WAY_LABELS, Way
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer
from shop.models import Contact


@dataclass(frozen=True, slots=True, kw_only=True)
class ContactRow:
    """One contact of a customer."""

    id: int
    customer_id: int
    name: str
    relation: str
    phone: str
    email: str
    preferred: str
    preferred_label: str
    notes: str
    retired_at: datetime | None


def contacts_of_customer(*, customer_id: int, viewer: Viewer) -> tuple[ContactRow, ...]:
    """Return a customer's contacts that are in use, in one query."""
    viewer.demand(Act.SEE_CUSTOMERS)
    found = Contact.objects.of_customer(customer_id).in_use()
    return tuple(contact_row(contact) for contact in found)


def contact(*, contact_id: int, viewer: Viewer) -> ContactRow:
    """Return one contact.

    Raises
    ------
    NotFound
        No such contact.
    """
    viewer.demand(Act.SEE_CUSTOMERS)
    row = Contact.objects.filter(pk=contact_id).first()
    if row is None:
        raise NotFound("contact-not-found", "There is no such contact.")
    return contact_row(row)


def contact_row(row: Contact) -> ContactRow:
    """Return a contact as a row."""
    return ContactRow(
        id=row.pk,
        customer_id=row.customer_id,
        name=row.name,
        relation=row.relation,
        phone=row.phone,
        email=row.email,
        preferred=row.preferred,
        preferred_label=WAY_LABELS[Way(row.preferred)],
        notes=row.notes,
        retired_at=row.retired_at,
    )
