"""A fault found, repaired and proven without the browser."""

from typing import Any

import pytest
from rest_framework.test import APIClient

import harness
from tests.builders import UserFactory
from tests.diagnostics.builders import BENCH_TOML, a_work_order

pytestmark = pytest.mark.django_db

FAULT = ("wire:5", "open")
H = harness.loads(BENCH_TOML, name="bench example")


def bike_shows(test: dict[str, Any], *, mended: bool) -> str:
    """Return what the bike with its hidden fault shows in that test."""
    asked = {key: test[key] for key in ("rig", "tool")}
    asked |= (
        {"device": test["device"]}
        if test["tool"] == "eye"
        else {"probe": test["probe"]["terminal"], "clip": test["clip"]["terminal"]}
    )
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
