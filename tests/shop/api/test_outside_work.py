"""Outside work over the API: planned, sent, booked back, paid."""

import pytest

from shop.models import WorkOrder
from tests.builders import (
    OwnerFactory,
    ShopSettingsFactory,
    StripTagFactory,
    SupplierFactory,
    UserFactory,
)
from tests.shop.api.clients import client_of

pytestmark = pytest.mark.django_db


def test_a_rim_goes_to_the_plater_and_its_price_to_the_customer() -> None:
    ShopSettingsFactory()
    tag, supplier = StripTagFactory(), SupplierFactory()
    client = client_of(OwnerFactory())
    order: WorkOrder = tag.work_order
    body = {
        "supplier_id": supplier.pk,
        "trade": "plating",
        "description": "Rim chromed",
        "quote_amount": "80.00",
        "markup_percent": "15",
        "tag_ids": [tag.pk],
    }
    planned = client.post(
        f"/api/work-orders/{order.pk}/outside-work", body, format="json"
    )
    assert planned.status_code == 201
    here = f"/api/outside-work/{planned.json()['work']['id']}"
    away = client.post(f"{here}/send", {}, format="json").json()
    assert (away["work"]["state"], away["tags"][0]["tag"]["state"]) == ("away", "out")
    incomplete = client.post(f"{here}/back", {"checks": []}, format="json")
    assert incomplete.json()["code"] == "checks-incomplete"
    checks = {"checks": [{"tag_id": tag.pk, "result": "good"}]}
    back = client.post(f"{here}/back", checks, format="json").json()
    assert back["work"]["state"] == "back"
    client.patch(here, {"cost_amount": "86.50"}, format="json")
    page = client.get(f"/api/work-orders/{order.pk}").json()
    assert page["totals"]["outside_net"] == "99.48"
    assert page["outside_work"][0]["is_final"]
    again = {"reason": "chrome has flaked", "tag_ids": [tag.pk]}
    assert client.post(f"{here}/again", again, format="json").status_code == 200
    assert (
        client.post(f"{here}/drop", {"reason": "x"}, format="json").status_code == 409
    )
    assert client.get("/api/outside-work", {"state": "away"}).json()["count"] == 1


def test_a_technician_arranges_nothing() -> None:
    tag, supplier = StripTagFactory(), SupplierFactory()
    body = {"supplier_id": supplier.pk, "trade": "paint", "description": "Tank"}
    refused = client_of(UserFactory()).post(
        f"/api/work-orders/{tag.work_order_id}/outside-work", body, format="json"
    )
    assert refused.status_code == 403
