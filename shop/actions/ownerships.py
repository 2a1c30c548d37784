"""A bike changes hands: the old owner's time ends and the new one's begins."""

from datetime import datetime
from zoneinfo import ZoneInfo

from django.db import transaction

from shop.actions._rows import locked
from shop.actions.history import Happening, record
from shop.domain.ownerships import Handing
from shop.domain.roles import Act
from shop.models import Bike, Customer, Ownership, ShopSettings, User

TODAY = Handing()


@transaction.atomic
def pass_on_bike(
    *,
    bike_id: int,
    owner_id: int,
    acting_user: User,
    at: datetime,
    handing: Handing = TODAY,
) -> Bike:
    """Give a bike a new owner; work orders booked in before stay with the old one.

    Raises
    ------
    Refusal
        No such bike or customer, or a day that cannot be.
    """
    acting_user.demand(Act.KEEP_CUSTOMERS)
    bike = locked(Bike.objects.all(), pk=bike_id, field="bike_id", name="bike")
    owner = locked(
        Customer.objects.all(), pk=owner_id, field="owner_id", name="customer"
    )
    if owner.pk == bike.owner_id:
        return bike
    before = bike.owner.name
    present = _present(bike)
    zone = ZoneInfo(ShopSettings.objects.current().time_zone)
    tidy = handing.checked(today=at.astimezone(zone).date(), since=present.began_on)
    present.ended_on = tidy.on
    present.save()
    Ownership.objects.create(
        bike=bike, customer=owner, began_on=tidy.on, note=tidy.note, created_at=at
    )
    bike.owner = owner
    bike.save(update_fields=["owner"])
    record(
        Happening(
            verb="ownership.passed_on",
            kind="bike",
            subject_id=bike.pk,
            summary=f"{bike.name} passed on from {before} to {owner.name}",
            reason=tidy.note,
            changes={"owner": (before, owner.name), "on": ("", str(tidy.on))},
        ),
        acting_user=acting_user,
        at=at,
    )
    return bike


def _present(bike: Bike) -> Ownership:
    """Return the ownership that lasts, one not yet written where there is none."""
    found = Ownership.objects.of_bike(bike.pk).present().first()
    return found or Ownership(
        bike=bike, customer_id=bike.owner_id, created_at=bike.created_at
    )
