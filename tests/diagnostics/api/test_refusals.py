"""Over HTTP too, what cannot be is refused with a problem document and no trace."""

from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from rest_framework.test import APIClient

from diagnostics.models import Case, Finding, HarnessFile
from shop.domain.roles import Role
from shop.models import User
from tests.builders import UserFactory
from tests.diagnostics.builders import (
    BENCH_TOML,
    HORN,
    a_case_with_complaint,
    a_library_file,
    a_repaired_case,
)

pytestmark = pytest.mark.django_db


def client_of(person: User | None = None) -> APIClient:
    client = APIClient()
    client.force_authenticate(person or UserFactory.create())
    return client


def test_a_stranger_is_turned_away() -> None:
    case = a_case_with_complaint()
    for path in ("/api/cases", f"/api/cases/{case.pk}", "/api/harness-files"):
        assert APIClient().get(path).status_code in {401, 403}


@pytest.mark.parametrize("role", [Role.FRONT_DESK, Role.STOREKEEPER])
def test_who_may_not_find_faults_looks_and_touches_nothing(role: Role) -> None:
    case = a_case_with_complaint()
    client = client_of(UserFactory.create(role=role.value))
    assert client.get(f"/api/cases/{case.pk}").status_code == 200
    answer = client.post(
        f"/api/cases/{case.pk}/findings",
        {"tool": "test-lamp", "rig": HORN, "probe": "horn.1", "reads": "lit"},
        format="json",
    )
    assert (answer.status_code, answer.data["code"]) == (403, "not-allowed")
    assert Finding.objects.of_case(case.pk).count() == 3


def test_a_bad_drawing_is_answered_with_every_line() -> None:
    bad = BENCH_TOML.replace('to = "horn.1"', 'to = "hron.1"')
    answer = client_of().post(
        "/api/harness-files",
        {"maker": "Tarnfell", "model": "Heron", "text": bad},
        format="json",
    )
    assert answer.status_code == 400
    assert answer["content-type"] == "application/problem+json"
    body = answer.json()
    assert body["code"] == "harness-file-refused"
    line = next(
        number
        for number, text in enumerate(bad.splitlines(), start=1)
        if "hron" in text
    )
    assert line in [problem["line"] for problem in body["problems"]]
    assert HarnessFile.objects.count() == 0


def test_a_drawing_is_taken_as_a_file_as_well() -> None:
    file = SimpleUploadedFile("heron.toml", BENCH_TOML.encode())
    answer = client_of().post(
        "/api/harness-files",
        {"maker": "Tarnfell", "model": "Heron", "file": file},
        format="multipart",
    )
    assert (answer.status_code, answer.data["line"]["model"]) == (201, "Heron")
    listed = client_of().get("/api/harness-files?q=heron").data
    assert [line["model"] for line in listed] == ["Heron"]
    read = client_of().get(f"/api/harness-files/{listed[0]['harness_file_id']}")
    assert read.data["text"] == BENCH_TOML


def test_a_tap_sent_twice_with_one_key_is_one_finding() -> None:
    case = a_case_with_complaint()
    client = client_of()
    body = {"tool": "test-lamp", "rig": HORN, "probe": "horn.1", "reads": "lit"}
    answers = [
        client.post(
            f"/api/cases/{case.pk}/findings",
            body,
            format="json",
            headers={"Idempotency-Key": "tap-1"},
        )
        for _ in range(2)
    ]
    assert [answer.status_code for answer in answers] == [201, 201]
    assert answers[0].data["finding_ids"] == answers[1].data["finding_ids"]
    assert Finding.objects.of_case(case.pk).count() == 4


@pytest.mark.parametrize(
    "body",
    [
        {},
        [],
        {"tool": "test-lamp"},
        {"tool": "spade", "probe": "horn.1", "reads": "lit"},
        {"tool": "test-lamp", "probe": "horn.1", "reads": "lit", "rig": []},
        {"tool": "test-lamp", "probe": "horn.1", "reads": "lit", "rig": {"x": 1}},
        {
            "tool": "test-lamp",
            "probe": "horn.1",
            "reads": "lit",
            "rig": {"jumpers": [["horn.1"]]},
        },
        {
            "tool": "test-lamp",
            "probe": "horn.1",
            "reads": "lit",
            "rig": {"unplugged": {"a": 1}},
        },
        {"tool": "test-lamp", "probe": {"a": 1}, "reads": "lit"},
        {"tool": "test-lamp", "probe": "horn.1", "reads": "lit\x00"},
        {"tool": "voltmeter", "probe": "horn.1", "reads": "1e400"},
        {"tool": "eye", "device": "horn", "reads": None},
        {"tool": "eye", "device": "x" * 10_000, "reads": "dead"},
    ],
)
def test_a_crooked_body_is_refused_and_changes_nothing(body: Any) -> None:
    case = a_case_with_complaint()
    answer = client_of().post(f"/api/cases/{case.pk}/findings", body, format="json")
    assert answer.status_code == 400, answer.data
    assert answer["content-type"] == "application/problem+json"
    assert answer.json()["detail"]
    assert Finding.objects.of_case(case.pk).count() == 3


def test_text_that_is_no_json_is_refused() -> None:
    case = a_case_with_complaint()
    for text in ("{", "[" * 100_000, "\xff"):
        answer = client_of().post(
            f"/api/cases/{case.pk}/findings", text, content_type="application/json"
        )
        assert answer.status_code == 400


@pytest.mark.parametrize("number", [0, 10**9, 10**30])
def test_what_is_not_there_is_not_found(number: int) -> None:
    client = client_of()
    for path in (
        f"/api/cases/{number}",
        f"/api/cases/{number}/advice",
        f"/api/cases/{number}/beliefs",
        f"/api/harness-files/{number}",
    ):
        assert client.get(path).status_code == 404, path
    for path in (
        f"/api/findings/{number}/void",
        f"/api/findings/{number}/retest",
        f"/api/cases/{number}/give-up",
    ):
        answer = client.post(path, {"reason": "x", "reads": "dead"}, format="json")
        assert answer.status_code == 404, path


def test_voiding_putting_back_giving_up_and_reopening() -> None:
    case = a_case_with_complaint()
    client = client_of()
    finding = Finding.objects.of_case(case.pk).get(sequence=2)
    for reason, status in (("", 400), ("Brake not pressed.", 200)):
        answer = client.post(
            f"/api/findings/{finding.pk}/void", {"reason": reason}, format="json"
        )
        assert answer.status_code == status
    assert client.post(f"/api/findings/{finding.pk}/put-back").status_code == 201
    for verb, state in (("give-up", "given-up"), ("reopen", "open")):
        answer = client.post(
            f"/api/cases/{case.pk}/{verb}", {"reason": "As agreed."}, format="json"
        )
        assert answer.data["head"]["state"] == state
    listed = client.get(f"/api/cases?work_order_id={case.work_order_id}").data
    assert [line["state"] for line in listed] == ["open"]
    assert len(client.get("/api/cases").data) == 1


def test_findings_and_repairs_are_listed() -> None:
    case = a_repaired_case()
    client = client_of()
    found = client.get(f"/api/cases/{case.pk}/findings").data
    assert [item["sequence"] for item in found] == [1, 2, 3]
    (repair,) = client.get(f"/api/cases/{case.pk}/repairs").data
    assert repair["segments"] == ["wire:5"]


def test_opening_on_nothing_is_refused() -> None:
    file = a_library_file()
    answer = client_of().post(
        "/api/cases",
        {"work_order_id": 10**15, "harness_file_id": file.pk, "title": "Horn"},
        format="json",
    )
    assert answer.status_code == 404
    assert Case.objects.count() == 0
