"""Tags, suppliers and outside work over the API, from the bike and back on it."""

import pytest

from tests.builders import (
    StripTagFactory,
    UserFactory,
    WorkOrderFactory,
)
from tests.shop.api.clients import client_of

pytestmark = pytest.mark.django_db


def test_a_part_is_tagged_found_by_its_label_and_fitted() -> None:
    order, client = WorkOrderFactory(), client_of(UserFactory())
    address = f"/api/work-orders/{order.pk}/strip-tags"
    made = client.post(address, {"name": "Rear wheel", "shelf": "B3"}, format="json")
    assert made.status_code == 201
    tag = made.json()
    assert (tag["label"], tag["where"]) == ("T-1001-9", "Shelf B3")
    found = client.get("/api/strip-tags", {"code": "10019"}).json()
    assert [row["id"] for row in found["results"]] == [tag["id"]]
    miscopied = client.get("/api/strip-tags", {"code": "10091"})
    assert (miscopied.status_code, miscopied.json()["code"]) == (
        400,
        "tag-number-miscopied",
    )
    move = f"/api/strip-tags/{tag['id']}/move"
    fitted = client.post(move, {"event": "fit"}, format="json")
    assert fitted.json()["state"] == "on_bike"
    assert client.post(move, {"event": "fit"}, format="json").status_code == 409
    assert client.get(address).json()["unsettled"] == 0


def test_scrap_asks_for_the_customers_consent() -> None:
    tag, client = StripTagFactory(), client_of(UserFactory())
    address = f"/api/strip-tags/{tag.pk}/fate"
    refused = client.post(address, {"fate": "scrap"}, format="json")
    assert (refused.status_code, refused.json()["code"]) == (409, "consent-missing")
    agreed = {"fate": "scrap", "consent_by_name": "Ada Fenn"}
    assert client.post(address, agreed, format="json").json()["fate"] == "scrap"


def test_a_shelf_is_corrected() -> None:
    tag, client = StripTagFactory(), client_of(UserFactory())
    done = client.patch(f"/api/strip-tags/{tag.pk}", {"shelf": "C1"}, format="json")
    assert done.json()["where"] == "Shelf C1"
