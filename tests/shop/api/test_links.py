import pytest
from django.test import Client
from django.urls import reverse
from rest_framework.test import APIClient

from shop.models import Customer, User
from tests.builders import CustomerFactory, FrontDeskFactory, UserFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def customer() -> Customer:
    return CustomerFactory.create()


def client_of(user: User) -> APIClient:
    client = APIClient()
    client.force_authenticate(user)
    return client


def test_a_link_is_made_opened_and_revoked(customer: Customer) -> None:
    office = client_of(FrontDeskFactory.create())
    way = reverse("api-customer-links", args=[customer.pk])
    made = office.post(way)
    assert made.status_code == 201
    assert made["Cache-Control"] == "private, no-store"
    path = made.data["address"].removeprefix("http://127.0.0.1:8000")
    assert Client().get(path).status_code == 302
    (row,) = office.get(way).data["rows"]
    assert (row["id"], row["state"]) == (made.data["id"], "Open")
    assert "address" not in row
    closed = office.post(reverse("api-link-revoke", args=[made.data["id"]]))
    assert closed.data["rows"][0]["state"] == "Revoked"
    assert Client().get(path).status_code == 410
    again = office.post(reverse("api-link-revoke", args=[made.data["id"]]))
    assert (again.status_code, again.data["code"]) == (409, "link-revoked")


def test_a_technician_makes_no_link(customer: Customer) -> None:
    answer = client_of(UserFactory.create()).post(
        reverse("api-customer-links", args=[customer.pk])
    )
    assert (answer.status_code, answer.data["code"]) == (403, "not-allowed")


def test_what_is_not_there_answers_404() -> None:
    office = client_of(FrontDeskFactory.create())
    assert office.get(reverse("api-customer-links", args=[404])).status_code == 404
    assert office.post(reverse("api-customer-links", args=[404])).status_code == 404
    assert office.post(reverse("api-link-revoke", args=[404])).status_code == 404
