"""Customers taken on and corrected."""

from collections.abc import Mapping
from dataclasses import asdict
from datetime import datetime

from django.db import transaction

from shop.actions._details import details_of, put
from shop.actions._rows import locked
from shop.actions.history import Happening, record
from shop.domain.customers import CustomerDetails
from shop.domain.entries import altered, differences
from shop.domain.roles import Act
from shop.models import Customer, User


@transaction.atomic
def add_customer(
    *, details: CustomerDetails, acting_user: User, at: datetime
) -> Customer:
    """Take on a customer."""
    acting_user.demand(Act.KEEP_CUSTOMERS)
    tidy = details.checked()
    customer = Customer.objects.create(created_at=at, **asdict(tidy))
    record(
        Happening(
            verb="customer.added",
            kind="customer",
            subject_id=customer.pk,
            summary=f"{customer.name} taken on as a customer",
        ),
        acting_user=acting_user,
        at=at,
    )
    return customer


@transaction.atomic
def edit_customer(
    *,
    customer_id: int,
    changes: Mapping[str, object],
    acting_user: User,
    at: datetime,
) -> Customer:
    """Correct some of a customer's details; `changes` is by field."""
    acting_user.demand(Act.KEEP_CUSTOMERS)
    customer = locked(
        Customer.objects.all(), pk=customer_id, field="customer_id", name="customer"
    )
    old = details_of(customer, CustomerDetails)
    new = altered(old, changes).checked()
    found = differences(old, new)
    if not found:
        return customer
    put(customer, new, found)
    record(
        Happening(
            verb="customer.edited",
            kind="customer",
            subject_id=customer.pk,
            summary=f"Details of {customer.name} corrected",
            changes=found,
        ),
        acting_user=acting_user,
        at=at,
    )
    return customer
