"""Measurements without the browser."""

from typing import Any

import pytest
from rest_framework.test import APIClient

from tests.builders import FrontDeskFactory, UserFactory
from tests.diagnostics.builders import a_case

pytestmark = pytest.mark.django_db

CHARGING = {
    "kind": "charging",
    "readings": {"running_v": "12,4", "engine_rpm": 4000},
}


def client_of(person: Any = None) -> APIClient:
    client = APIClient()
    client.force_authenticate(person or UserFactory.create())
    return client


def test_kinds_are_listed_taken_read_and_voided_over_http_alone() -> None:
    client = client_of()
    case = f"/api/cases/{a_case().pk}"
    kinds = client.get(f"{case}/measurement-kinds").data
    charging = next(kind for kind in kinds if kind["name"] == "charging")
    assert [item["name"] for item in charging["inputs"]] == [
        "running_v",
        "engine_rpm",
        "battery_c",
    ]
    taken = client.post(f"{case}/measurements", CHARGING, format="json")
    assert taken.status_code == 201, taken.data
    assert (taken.data["verdict"], taken.data["says"]) == (
        "fault",
        "It does not charge.",
    )
    address = f"/api/measurements/{taken.data['measurement_id']}"
    assert client.get(address).data == taken.data
    voided = client.post(f"{address}/void", {"reason": "Lights on."}, format="json")
    assert voided.data["void"]["reason"] == "Lights on."
    (listed,) = client.get(f"{case}/measurements").data
    assert listed["void"]["reason"] == "Lights on."


def test_the_same_key_sent_twice_is_one_measurement() -> None:
    client = client_of()
    address = f"/api/cases/{a_case().pk}/measurements"
    headers = {"Idempotency-Key": "once"}
    first = client.post(address, CHARGING, format="json", headers=headers)
    again = client.post(address, CHARGING, format="json", headers=headers)
    assert first.data["measurement_id"] == again.data["measurement_id"]


@pytest.mark.parametrize(
    ("body", "field"),
    [
        ({**CHARGING, "readings": {"running_v": 28, "engine_rpm": 4000}}, "running_v"),
        ({**CHARGING, "readings": {"running_v": "NaN"}}, "running_v"),
        ({**CHARGING, "readings": {}}, "running_v"),
        ({**CHARGING, "readings": []}, "readings"),
        ({**CHARGING, "readings": {"running_v": [1]}}, "readings.running_v"),
        ({**CHARGING, "kind": "tea"}, "kind"),
        ({"readings": {}}, "kind"),
    ],
)
def test_crooked_bodies_are_answered_with_a_problem(
    body: dict[str, Any], field: str
) -> None:
    answer = client_of().post(
        f"/api/cases/{a_case().pk}/measurements", body, format="json"
    )
    assert answer.status_code == 400
    assert answer["Content-Type"].startswith("application/problem+json")
    assert answer.data["field"] == field


def test_who_finds_no_faults_may_look_only() -> None:
    client = client_of(FrontDeskFactory.create())
    case = f"/api/cases/{a_case().pk}"
    assert client.get(f"{case}/measurements").status_code == 200
    answer = client.post(f"{case}/measurements", CHARGING, format="json")
    assert answer.status_code == 403
