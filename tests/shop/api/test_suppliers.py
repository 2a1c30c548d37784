"""Suppliers over the API."""

import pytest

from tests.builders import StorekeeperFactory, UserFactory
from tests.shop.api.clients import client_of

pytestmark = pytest.mark.django_db
PLATER = {"name": "Oxbow Platers", "trades": ["plating"], "lead_days": 21}


def test_a_supplier_is_written_down_found_and_corrected() -> None:
    client = client_of(StorekeeperFactory())
    made = client.post("/api/suppliers", PLATER, format="json").json()
    assert (made["trades"], made["lead_days"]) == (["plating"], 21)
    here = f"/api/suppliers/{made['id']}"
    done = client.patch(here, {"trades": ["paint", "plating"]}, format="json").json()
    assert done["trades_text"] == "Plating and polishing, Paint"
    assert client.get("/api/suppliers", {"q": "oxbow"}).json()["count"] == 1
    assert client.get(here).json() == done


def test_who_may_not_keep_suppliers_and_what_is_none_are_refused() -> None:
    refused = client_of(UserFactory()).post("/api/suppliers", PLATER, format="json")
    assert refused.status_code == 403
    bad = {"name": "Oxbow", "trades": ["alchemy"]}
    answer = client_of(StorekeeperFactory()).post("/api/suppliers", bad, format="json")
    assert answer.status_code == 400
