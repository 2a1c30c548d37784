"""A fault found, repaired and proven without the browser."""

from typing import Any

import pytest
from rest_framework.test import APIClient

import harness
from tests.builders import UserFactory
from tests.diagnostics.builders import (
    BENCH_TOML,
    HORN,
    a_case_with_complaint,
    a_work_order,
)

pytestmark = pytest.mark.django_db

FAULT = ("wire:5", "open")
H = harness.loads(BENCH_TOML, name="bench example")


def bike_shows(test: dict[str, Any], *, mended: bool) -> str:
    """Return what the bike with its hidden fault shows in that test."""
    asked = {key: test[key] for key in ("rig", "tool")}
    if test["tool"] == "eye":
        asked |= {"device": test["device"]}
    elif test["tool"] == "ammeter":
        asked |= {"wire": test["wire"]["wire_id"]}
    else:
        asked |= {"probe": test["probe"]["terminal"], "clip": test["clip"]["terminal"]}
    return str(harness.shown(H, asked, faults=() if mended else (FAULT,)))


def test_from_complaint_to_proof_over_http_alone() -> None:
    client = APIClient()
    client.force_authenticate(UserFactory.create())

    drawing = client.post(
        "/api/harness-files",
        {"maker": "Tarnfell", "model": "Heron 350", "text": BENCH_TOML},
        format="json",
    )
    assert drawing.status_code == 201, drawing.data
    opened = client.post(
        "/api/cases",
        {
            "work_order_id": a_work_order().pk,
            "harness_file_id": drawing.data["line"]["harness_file_id"],
            "title": "Horn dead",
        },
        format="json",
    )
    assert opened.status_code == 201, opened.data
    case = f"/api/cases/{opened.data['head']['case_id']}"

    form = client.get(f"{case}/complaint").data
    eyes = [
        {
            "device": consumer["device"],
            "rig": consumer["rig"],
            "reads": bike_shows({**consumer, "tool": "eye"}, mended=False),
        }
        for group in form
        for consumer in group["consumers"]
    ]
    assert {eye["device"]: eye["reads"] for eye in eyes}["horn"] == "dead"
    answer = client.post(f"{case}/complaint", {"eyes": eyes}, format="json")
    assert answer.status_code == 201, answer.data

    taken = 0
    while tests := client.get(f"{case}/advice").data:
        test = tests[0]
        body = {
            "tool": test["tool"],
            "rig": test["rig"],
            "device": test["device"],
            "probe": test["probe"]["terminal"] if test["probe"] else "",
            "clip": test["clip"]["terminal"] if test["clip"] else "",
            "wire": test["wire"]["wire_id"] if test["wire"] else "",
            "reads": bike_shows(test, mended=False),
            "origin": "advised",
        }
        answer = client.post(f"{case}/findings", body, format="json")
        assert answer.status_code == 201, answer.data
        taken += 1
        assert taken < 10, "the advice leads nowhere"
    belief = answer.data["case"]["belief"]
    assert FAULT[0] in belief["isolated"]["segments"]

    repaired = client.post(
        f"{case}/repairs",
        {
            "done": "Earth wire of the horn button renewed.",
            "segments": ["wire:5"],
            "mode": "open",
        },
        format="json",
    )
    assert repaired.status_code == 201, repaired.data
    early = client.post(f"{case}/proof")
    assert (early.status_code, early.data["code"]) == (409, "retest-missing")

    for item in client.get(f"{case}/proof").data:
        before = item["finding"]
        asked = {
            **before,
            "probe": {"terminal": before["probe"]},
            "clip": {"terminal": before["clip"]},
            "wire": {"wire_id": before["wire"]},
        }
        again = client.post(
            f"/api/findings/{before['finding_id']}/retest",
            {"reads": bike_shows(asked, mended=True)},
            format="json",
        )
        assert again.status_code == 201, again.data
    proven = client.post(f"{case}/proof")
    assert (proven.status_code, proven.data["head"]["state"]) == (200, "proven")

    steps = client.get(f"{case}/beliefs").data
    assert [step["step"] for step in steps] == list(range(len(steps)))
    last = client.get(f"{case}/beliefs/{steps[-1]['step']}")
    assert last.data["step"] == steps[-1]["step"]


def test_a_clamp_and_a_moved_loom_over_http() -> None:
    client = APIClient()
    client.force_authenticate(UserFactory.create())
    case = f"/api/cases/{a_case_with_complaint().pk}"
    body = {"tool": "ammeter", "wire": "3", "rig": HORN, "reads": "0", "moving": True}
    taken = client.post(f"{case}/findings", body, format="json")
    assert taken.status_code == 201, taken.data
    (found,) = [f for f in client.get(f"{case}/findings").data if f["sequence"] == 4]
    assert (found["wire"], found["moving"], found["reading"]) == ("3", True, "0 A")
    for crooked, status in (
        ({"wire": ""}, 400),
        ({"wire": "99"}, 400),
        ({"wire": ["3"]}, 400),
        ({"moving": "perhaps"}, 400),
        ({"reads": "lit"}, 400),
    ):
        answer = client.post(f"{case}/findings", body | crooked, format="json")
        assert answer.status_code == status, (crooked, answer.data)
