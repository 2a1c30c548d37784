"""Owners, odometer, time line and contacts over the API."""

import pytest

from tests.builders import BikeFactory, CustomerFactory, FrontDeskFactory, UserFactory
from tests.shop.api.clients import client_of

pytestmark = pytest.mark.django_db


def test_a_bike_gets_a_new_owner_from_a_day_on() -> None:
    bike, buyer = BikeFactory(), CustomerFactory(name="Ines Roke")
    client = client_of(FrontDeskFactory())
    answer = client.put(
        f"/api/bikes/{bike.pk}/owner",
        {"owner_id": buyer.pk, "on": "2025-04-01"},
        format="json",
    )
    assert answer.json()["owner_name"] == "Ines Roke"
    owners = client.get(f"/api/bikes/{bike.pk}/owners").json()
    assert [row["began_on"] for row in owners] == ["2025-04-01", None]
    assert client.get("/api/bikes/404/owners").status_code == 404


def test_a_lower_reading_without_a_reason_is_a_problem_at_its_field() -> None:
    bike = BikeFactory()
    client = client_of(UserFactory())
    address = f"/api/bikes/{bike.pk}/odometer"
    first = client.post(address, {"distance": "20417", "unit": "km"}, format="json")
    assert first.status_code == 201
    again = client.post(address, {"distance": "12", "unit": "km"}, format="json")
    assert again.status_code == 400
    assert "reading-lower" in again.content.decode()
    right = client.post(
        f"/api/odometer-readings/{first.json()['id']}/correct",
        {"distance": "2041.7", "unit": "km", "reason": "Tenths"},
        format="json",
    )
    assert right.json()["corrects_id"] == first.json()["id"]
    assert client.get(address).json()["latest"] == "2041.7 km"
    line = client.get(f"/api/bikes/{bike.pk}/timeline?kind=odometer&limit=1").json()
    assert (line["count"], len(line["results"])) == (2, 1)
    wrong = client.get(f"/api/bikes/{bike.pk}/timeline?kind=luck")
    assert wrong.status_code == 400


def test_a_contact_is_kept_over_the_api() -> None:
    customer = CustomerFactory()
    client = client_of(FrontDeskFactory())
    made = client.post(
        f"/api/customers/{customer.pk}/contacts",
        {"name": "Jo Fenn", "phone": "0555 010 201"},
        format="json",
    ).json()
    changed = client.patch(
        f"/api/contacts/{made['id']}", {"relation": "daughter"}, format="json"
    )
    assert changed.json()["relation"] == "daughter"
    shown = client.get(f"/api/customers/{customer.pk}").json()["contacts"]
    assert [row["name"] for row in shown] == ["Jo Fenn"]
    assert client.post(f"/api/contacts/{made['id']}/retire").status_code == 200
    assert client.post(f"/api/contacts/{made['id']}/retire").status_code == 409
