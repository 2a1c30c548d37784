"""The parts list, and lines made from it, over the API."""

import pytest

from tests.builders import (
    PartFactory,
    StorekeeperFactory,
    TaxRateFactory,
    UserFactory,
    WorkOrderFactory,
)
from tests.shop.api.clients import client_of

pytestmark = pytest.mark.django_db


def test_a_number_that_is_taken_is_refused_at_its_field() -> None:
    tax = TaxRateFactory()
    client = client_of(StorekeeperFactory())
    part = {"number": "N1", "description": "d", "price": "1.00", "tax_rate_id": tax.pk}
    assert client.post("/api/parts", part, format="json").status_code == 201
    again = client.post("/api/parts", part, format="json")
    assert (again.status_code, again.json()["field"]) == (400, "number")


def test_a_retired_part_is_off_the_list_unless_asked_for() -> None:
    part = PartFactory()
    client = client_of(StorekeeperFactory())
    client.patch(f"/api/parts/{part.pk}", {"is_retired": True}, format="json")
    assert client.get("/api/parts").json()["count"] == 0
    assert client.get("/api/parts?retired_too=true").json()["count"] == 1


def test_a_part_is_put_on_and_struck_out_again() -> None:
    order, part = WorkOrderFactory(), PartFactory(unit="metre", price="1.25")
    client = client_of(UserFactory())
    where = f"/api/work-orders/{order.pk}/part-lines"
    line = client.post(
        where, {"part_id": part.pk, "quantity": "2.75"}, format="json"
    ).json()
    assert (line["net"], line["quantity_text"]) == ("3.44", "2.75")
    void = f"/api/part-lines/{line['id']}/void"
    assert client.post(void, {"reason": ""}, format="json").status_code == 400
    assert client.post(void, {"reason": "back"}, format="json").json()["is_void"]
    assert client.post(void, {"reason": "again"}, format="json").status_code == 409
    page = client.get(f"/api/work-orders/{order.pk}").json()
    assert page["totals"]["gross"] == "0.00"


def test_tax_rates_in_use_are_offered() -> None:
    TaxRateFactory(label="Standard", percent="20")
    TaxRateFactory(label="Former", is_retired=True)
    found = client_of(UserFactory()).get("/api/tax-rates").json()
    assert [rate["label"] for rate in found] == ["Standard"]
