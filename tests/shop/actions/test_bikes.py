"""Bikes are written down, corrected and passed on."""

import pytest

from shop.actions.bikes import add_bike, edit_bike
from shop.domain.bikes import BikeDetails
from shop.domain.refusals import NotAllowed, NotFound, Refusal
from shop.models import Bike, HistoryEntry, Ownership
from tests.builders import (
    MORNING,
    BikeFactory,
    CustomerFactory,
    StorekeeperFactory,
    UserFactory,
)

pytestmark = pytest.mark.django_db

HERON = BikeDetails(
    maker="Tarnfell", model="Heron 350", system_volts=6, earth="positive"
)


def test_a_technician_writes_down_a_bike() -> None:
    owner = CustomerFactory(name="Ada Fenn")
    bike = add_bike(
        owner_id=owner.pk, details=HERON, acting_user=UserFactory(), at=MORNING
    )
    bike.refresh_from_db()
    assert (bike.owner, bike.system_volts, bike.earth) == (owner, 6, "positive")
    assert Ownership.objects.get().customer == owner
    assert HistoryEntry.objects.get().summary == (
        "Tarnfell Heron 350 of Ada Fenn written down"
    )


@pytest.mark.parametrize("owner_id", [0, 404, 10**30])
def test_a_bike_of_nobody_is_refused(owner_id: int) -> None:
    with pytest.raises(NotFound) as refused:
        add_bike(
            owner_id=owner_id, details=HERON, acting_user=UserFactory(), at=MORNING
        )
    assert refused.value.field == "owner_id"
    assert not Bike.objects.exists()


def test_a_wrong_polarity_can_be_corrected_and_is_told() -> None:
    bike = BikeFactory(earth="positive")
    edit_bike(
        bike_id=bike.pk,
        changes={"earth": "negative"},
        acting_user=UserFactory(),
        at=MORNING,
    )
    bike.refresh_from_db()
    assert bike.earth == "negative"
    assert HistoryEntry.objects.get().changes == {"earth": ["positive", "negative"]}


def test_a_polarity_that_no_bike_has_is_refused() -> None:
    bike = BikeFactory(earth="positive")
    with pytest.raises(Refusal):
        edit_bike(
            bike_id=bike.pk,
            changes={"earth": "floating"},
            acting_user=UserFactory(),
            at=MORNING,
        )
    bike.refresh_from_db()
    assert bike.earth == "positive"


def test_the_storekeeper_writes_down_no_bike() -> None:
    with pytest.raises(NotAllowed):
        edit_bike(
            bike_id=BikeFactory().pk,
            changes={"colour": "black"},
            acting_user=StorekeeperFactory(),
            at=MORNING,
        )
