"""A bike changes hands, and the history stays."""

from datetime import date

import pytest
from django.db import IntegrityError, transaction

from shop.actions.ownerships import pass_on_bike
from shop.domain.ownerships import Handing
from shop.domain.refusals import NotAllowed, Refusal
from shop.models import HistoryEntry, Ownership
from tests.builders import (
    MORNING,
    BikeFactory,
    CustomerFactory,
    FrontDeskFactory,
    UserFactory,
    WorkOrderFactory,
)

pytestmark = pytest.mark.django_db


def pass_on(bike_id: int, owner_id: int, handing: Handing) -> None:
    pass_on_bike(
        bike_id=bike_id,
        owner_id=owner_id,
        handing=handing,
        acting_user=FrontDeskFactory(),
        at=MORNING,
    )


def test_a_bike_sold_on_leaves_old_work_orders_with_who_pays_for_them() -> None:
    order = WorkOrderFactory()
    seller, buyer = order.customer, CustomerFactory(name="Ines Roke")
    pass_on(order.bike_id, buyer.pk, Handing())
    order.refresh_from_db()
    assert order.bike.owner == buyer
    assert order.customer == seller
    assert HistoryEntry.objects.get().changes["owner"] == [seller.name, "Ines Roke"]


def test_every_owner_keeps_the_days_of_their_time() -> None:
    bike = BikeFactory()
    first, second, third = bike.owner, CustomerFactory(), CustomerFactory()
    pass_on(bike.pk, second.pk, Handing(on=date(2019, 4, 1), note="sold at auction"))
    pass_on(bike.pk, third.pk, Handing(on=date(2024, 9, 30)))
    told = Ownership.objects.of_bike(bike.pk).latest_first()
    assert [(o.customer_id, o.began_on, o.ended_on) for o in told] == [
        (third.pk, date(2024, 9, 30), None),
        (second.pk, date(2019, 4, 1), date(2024, 9, 30)),
        (first.pk, None, date(2019, 4, 1)),
    ]


def test_a_bike_can_come_back_to_who_had_it_before() -> None:
    bike = BikeFactory()
    first, second = bike.owner, CustomerFactory()
    pass_on(bike.pk, second.pk, Handing(on=date(2019, 4, 1)))
    pass_on(bike.pk, first.pk, Handing(on=date(2020, 4, 1)))
    assert Ownership.objects.of_customer(first.pk).count() == 2
    assert Ownership.objects.present().get().customer == first


@pytest.mark.parametrize(
    ("on", "code"),
    [
        (date(2026, 3, 3), "handing-in-future"),
        (date(2019, 3, 31), "handing-before-owner"),
    ],
)
def test_a_day_that_cannot_be_leaves_everything_as_it_was(on: date, code: str) -> None:
    bike = BikeFactory()
    second = CustomerFactory()
    pass_on(bike.pk, second.pk, Handing(on=date(2019, 4, 1)))
    with pytest.raises(Refusal) as refused:
        pass_on(bike.pk, CustomerFactory().pk, Handing(on=on))
    assert (refused.value.code, refused.value.field) == (code, "on")
    assert Ownership.objects.present().get().customer == second


def test_a_bike_passed_on_to_its_owner_stays_as_it_is() -> None:
    bike = BikeFactory()
    pass_on(bike.pk, bike.owner_id, Handing())
    assert not HistoryEntry.objects.exists()


def test_a_technician_gives_no_bike_away() -> None:
    with pytest.raises(NotAllowed):
        pass_on_bike(
            bike_id=BikeFactory().pk,
            owner_id=CustomerFactory().pk,
            acting_user=UserFactory(),
            at=MORNING,
        )


def test_the_database_lets_no_bike_have_two_owners_at_once() -> None:
    bike = BikeFactory()
    made = {"bike": bike, "customer": bike.owner, "created_at": MORNING}
    Ownership.objects.create(**made)
    with pytest.raises(IntegrityError), transaction.atomic():
        Ownership.objects.create(**made)
