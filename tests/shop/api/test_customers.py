"""Customers over the API."""

import pytest

from shop.models import HistoryEntry
from tests.builders import BikeFactory, CustomerFactory, FrontDeskFactory
from tests.shop.api.clients import client_of

pytestmark = pytest.mark.django_db


def test_a_change_of_some_fields_leaves_the_others() -> None:
    customer = CustomerFactory(name="Ada Fenn", phone="0555 1", notes="rings first")
    client = client_of(FrontDeskFactory())
    answer = client.patch(
        f"/api/customers/{customer.pk}", {"phone": "0555 2"}, format="json"
    )
    assert answer.json()["phone"] == "0555 2"
    customer.refresh_from_db()
    assert (customer.name, customer.notes) == ("Ada Fenn", "rings first")
    nothing = client.patch(f"/api/customers/{customer.pk}", {}, format="json")
    assert nothing.status_code == 200
    assert HistoryEntry.objects.count() == 1


def test_a_mail_address_that_is_none_is_refused_at_its_field() -> None:
    answer = client_of(FrontDeskFactory()).post(
        "/api/customers", {"name": "Ada", "email": "nowhere"}, format="json"
    )
    problem = answer.json()
    assert (answer.status_code, problem["code"]) == (400, "email-malformed")
    assert problem["field"] == "email"


def test_a_customer_comes_with_their_bikes() -> None:
    bike = BikeFactory(earth="positive")
    page = client_of(FrontDeskFactory()).get(f"/api/customers/{bike.owner_id}").json()
    assert [row["earth_label"] for row in page["bikes"]] == ["Positive earth"]
    assert page["work_orders"] == []
