"""Rates over the API."""

import pytest

from shop.models import LabourRate
from tests.builders import OwnerFactory, UserFactory
from tests.shop.api.clients import client_of

pytestmark = pytest.mark.django_db


def test_a_rate_is_set_read_and_taken_away() -> None:
    owner = client_of(OwnerFactory())
    body = {"kind": "check", "hourly_rate": "48.00"}
    rows = owner.put("/api/labour-rates", body, format="json").json()
    (check,) = [kind for kind in rows[0]["kinds"] if kind["kind"] == "check"]
    assert (check["kept"], check["holding"]) == ("48.00", "48.00")
    gone = {"kind": "check", "hourly_rate": None}
    assert owner.put("/api/labour-rates", gone, format="json").status_code == 200
    assert not LabourRate.objects.exists()


def test_rates_are_the_owners_and_must_make_sense() -> None:
    technician = client_of(UserFactory())
    assert technician.get("/api/labour-rates").status_code == 403
    body = {"kind": "check", "hourly_rate": "48.00"}
    assert technician.put("/api/labour-rates", body, format="json").status_code == 403
    owner = client_of(OwnerFactory())
    for wrong in (
        {"kind": "check"},
        {**body, "hourly_rate": "-1"},
        {**body, "kind": 7},
    ):
        answer = owner.put("/api/labour-rates", wrong, format="json")
        assert answer.status_code == 400, wrong
