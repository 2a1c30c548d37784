"""What the tests of paper share: a drawer of their own, and work to report on."""

from collections.abc import Callable
from datetime import datetime, timedelta
from decimal import Decimal

from django.test import Client
from django.urls import reverse
from django.utils import timezone

from shop.actions import paper_building
from shop.models import User, WorkOrder
from tests.builders import (
    MORNING,
    PASSWORD,
    BikeFactory,
    CustomerFactory,
    LabourLineFactory,
    PartFactory,
    PartLineFactory,
    ShopSettingsFactory,
    WorkOrderFactory,
)

NOON = MORNING + timedelta(hours=3)


def at_noon() -> datetime:
    return NOON


def order_with_work() -> WorkOrder:
    """Return a work order with labour and parts at two tax rates."""
    ShopSettingsFactory.create(phone="0555 010 999", tax_number="OH 77")
    owner = CustomerFactory.create(name="Ottilie Marsh")
    bike = BikeFactory.create(
        owner=owner, frame_number="H35/0042", engine_number="0042 E"
    )
    order: WorkOrder = WorkOrderFactory.create(
        bike=bike,
        complaint="Head lamp dies over bumps.\nHorn croaks & the dash <glows>.",
        work_done="Loom opened at the headstock, one wire renewed.",
    )
    LabourLineFactory.create(work_order=order, minutes=95)
    cable = PartFactory.create(description="Cable 1.5 mm², brown/white")
    PartLineFactory.create(work_order=order, part=cable, quantity=Decimal("0.400"))
    PartLineFactory.create(
        work_order=order, part=cable, condition="new_old_stock", tax_percent=Decimal(5)
    )
    return order


def build_all(
    *, at: datetime = NOON, clock: Callable[[], datetime] = at_noon, most: int = 20
) -> int:
    """Make what waits, as a worker does; say how many papers were taken up."""
    for taken in range(most):
        if not paper_building.build_next(acting_user=None, at=at, clock=clock):
            return taken
    raise AssertionError(f"still waiting after {most} papers")


def build_now() -> int:
    """Make what waits by the real clock."""
    return build_all(at=timezone.now(), clock=timezone.now)


def signed_in(user: User) -> Client:
    """Return a browser in which this person has signed in."""
    client = Client()
    answer = client.post(
        reverse("account_login"), {"login": user.username, "password": PASSWORD}
    )
    assert answer.status_code == 302, answer.content.decode()
    return client
