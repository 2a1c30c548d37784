"""Whose a bike was, and which bikes somebody had."""

from dataclasses import dataclass
from datetime import date

from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer
from shop.models import Bike, Ownership
from shop.models.ownerships import OwnershipQuerySet
from shop.selectors.windows import MOST_ROWS


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnershipRow:
    """One customer's time with one bike."""

    id: int
    bike_id: int
    bike_name: str
    registration: str
    customer_id: int
    customer_name: str
    began_on: date | None
    ended_on: date | None
    note: str


def owners_of_bike(*, bike_id: int, viewer: Viewer) -> tuple[OwnershipRow, ...]:
    """Return the owners of a bike, the present one first.

    Raises
    ------
    NotFound
        No such bike.
    """
    found = owners_if_any(bike_id=bike_id, viewer=viewer)
    if not found and not Bike.objects.filter(pk=bike_id).exists():
        raise NotFound("bike-not-found", "There is no such bike.")
    return found


def owners_if_any(*, bike_id: int, viewer: Viewer) -> tuple[OwnershipRow, ...]:
    """Return the owners of a bike that is known to be there, in one query."""
    viewer.demand(Act.SEE_CUSTOMERS)
    return _rows(Ownership.objects.of_bike(bike_id).latest_first())


def bikes_owned_before(*, customer_id: int, viewer: Viewer) -> tuple[OwnershipRow, ...]:
    """Return the bikes that a customer has passed on, the latest first."""
    viewer.demand(Act.SEE_CUSTOMERS)
    return _rows(Ownership.objects.of_customer(customer_id).ended().latest_first())


def _rows(found: OwnershipQuerySet) -> tuple[OwnershipRow, ...]:
    latest = found.select_related("bike", "customer")[:MOST_ROWS]
    return tuple(
        OwnershipRow(
            id=row.pk,
            bike_id=row.bike_id,
            bike_name=row.bike.name,
            registration=row.bike.registration,
            customer_id=row.customer_id,
            customer_name=row.customer.name,
            began_on=row.began_on,
            ended_on=row.ended_on,
            note=row.note,
        )
        for row in latest
    )
