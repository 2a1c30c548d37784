"""Bikes written down and corrected; how they change hands: see ownerships."""

from collections.abc import Mapping
from dataclasses import asdict
from datetime import datetime

from django.db import transaction

from shop.actions._details import details_of, put
from shop.actions._rows import locked
from shop.actions.history import Happening, record
from shop.domain.bikes import BikeDetails
from shop.domain.entries import altered, differences
from shop.domain.roles import Act
from shop.models import Bike, Customer, Ownership, User


@transaction.atomic
def add_bike(
    *, owner_id: int, details: BikeDetails, acting_user: User, at: datetime
) -> Bike:
    """Write down a customer's bike."""
    acting_user.demand(Act.KEEP_BIKES)
    tidy = details.checked()
    owner = _owner(owner_id)
    bike = Bike.objects.create(owner=owner, created_at=at, **asdict(tidy))
    # Since when the owner has it, nobody has said.
    Ownership.objects.create(bike=bike, customer=owner, created_at=at)
    record(
        Happening(
            verb="bike.added",
            kind="bike",
            subject_id=bike.pk,
            summary=f"{bike.name} of {owner.name} written down",
        ),
        acting_user=acting_user,
        at=at,
    )
    return bike


@transaction.atomic
def edit_bike(
    *, bike_id: int, changes: Mapping[str, object], acting_user: User, at: datetime
) -> Bike:
    """Correct some of a bike's details; `changes` is by field."""
    acting_user.demand(Act.KEEP_BIKES)
    bike = locked(Bike.objects.all(), pk=bike_id, field="bike_id", name="bike")
    old = details_of(bike, BikeDetails)
    new = altered(old, changes).checked()
    found = differences(old, new)
    if not found:
        return bike
    put(bike, new, found)
    record(
        Happening(
            verb="bike.edited",
            kind="bike",
            subject_id=bike.pk,
            summary=f"Details of {bike.name} corrected",
            changes=found,
        ),
        acting_user=acting_user,
        at=at,
    )
    return bike


def _owner(owner_id: int) -> Customer:
    return locked(
        Customer.objects.all(), pk=owner_id, field="owner_id", name="customer"
    )
