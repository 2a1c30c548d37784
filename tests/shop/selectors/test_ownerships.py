"""Whose a bike was, and which bikes somebody had."""

import pytest
from pytest_django import DjangoAssertNumQueries

from shop.actions.ownerships import pass_on_bike
from shop.domain.refusals import NotAllowed, NotFound
from shop.selectors.ownerships import bikes_owned_before, owners_of_bike
from tests.builders import (
    MORNING,
    BikeFactory,
    CustomerFactory,
    FrontDeskFactory,
    StorekeeperFactory,
)

pytestmark = pytest.mark.django_db


def test_the_old_owner_is_still_told_and_so_is_their_bike(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    desk = FrontDeskFactory()
    bike, buyer = BikeFactory(), CustomerFactory()
    pass_on_bike(bike_id=bike.pk, owner_id=buyer.pk, acting_user=desk, at=MORNING)
    viewer = desk.as_viewer()
    with django_assert_num_queries(1):
        owners = owners_of_bike(bike_id=bike.pk, viewer=viewer)
    assert [row.customer_id for row in owners] == [buyer.pk, bike.owner_id]
    with django_assert_num_queries(1):
        (before,) = bikes_owned_before(customer_id=bike.owner_id, viewer=viewer)
    assert (before.bike_id, before.ended_on) == (bike.pk, MORNING.date())
    assert bikes_owned_before(customer_id=buyer.pk, viewer=viewer) == ()


def test_an_unknown_bike_has_no_owners() -> None:
    with pytest.raises(NotFound):
        owners_of_bike(bike_id=404, viewer=FrontDeskFactory().as_viewer())


def test_the_storekeeper_is_told_no_owner() -> None:
    with pytest.raises(NotAllowed):
        owners_of_bike(
            bike_id=BikeFactory().pk, viewer=StorekeeperFactory().as_viewer()
        )
