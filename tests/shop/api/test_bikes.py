"""Bikes over the API."""

import pytest

from tests.builders import BikeFactory, CustomerFactory, FrontDeskFactory
from tests.shop.api.clients import client_of

pytestmark = pytest.mark.django_db


def test_a_bike_is_found_by_what_is_stamped_on_it() -> None:
    wanted = BikeFactory(frame_number="H35/0417")
    BikeFactory(frame_number="H35/9999")
    found = client_of(FrontDeskFactory()).get("/api/bikes?q=0417").json()
    assert [row["id"] for row in found["results"]] == [wanted.pk]


def test_a_year_can_be_taken_back_to_unknown() -> None:
    bike = BikeFactory(year=1961)
    answer = client_of(FrontDeskFactory()).patch(
        f"/api/bikes/{bike.pk}", {"year": None}, format="json"
    )
    assert answer.json()["year"] is None
    assert answer.json()["name"] == "Tarnfell Heron 350"


def test_a_bike_gets_a_new_owner() -> None:
    bike, buyer = BikeFactory(), CustomerFactory(name="Ines Roke")
    answer = client_of(FrontDeskFactory()).put(
        f"/api/bikes/{bike.pk}/owner", {"owner_id": buyer.pk}, format="json"
    )
    assert answer.json()["owner_name"] == "Ines Roke"
