"""Tasks, holds, advisories and the final check over the API."""

import pytest

from shop.models import CheckItem
from tests.builders import FrontDeskFactory, UserFactory, WorkOrderFactory
from tests.shop.api.clients import client_of

pytestmark = pytest.mark.django_db

HOURS = {"optimistic_hours": "1", "likely_hours": "2", "pessimistic_hours": "3"}


def test_tasks_are_planned_in_order_and_moved() -> None:
    order, bench = WorkOrderFactory(state="on_the_bench"), client_of(UserFactory())
    where = f"/api/work-orders/{order.pk}/tasks"

    def plan(operation: str, after: list[int]) -> int:
        answer = bench.post(
            where, {**HOURS, "operation": operation, "depends_on": after}, format="json"
        )
        assert answer.status_code == 201, answer.content
        made: int = answer.json()["id"]
        return made

    strip = plan("Strip", [])
    build = plan("Build", [strip])
    refused = bench.post(
        f"/api/tasks/{build}/events", {"event": "start"}, format="json"
    )
    assert (refused.status_code, refused.json()["code"]) == (409, "task-waits")
    started = bench.post(
        f"/api/tasks/{strip}/events",
        {"event": "start", "seen_state": "planned"},
        format="json",
    )
    assert started.json()["state"] == "underway"
    late = bench.post(
        f"/api/tasks/{strip}/events",
        {"event": "drop", "reason": "no", "seen_state": "planned"},
        format="json",
    )
    assert (late.status_code, late.json()["code"]) == (409, "task-moved-already")
    edited = bench.patch(f"/api/tasks/{build}", {"depends_on": []}, format="json")
    assert edited.json()["waits_for"] == []
    bench.post(f"/api/tasks/{build}/place", {"position": 1}, format="json")
    assert [row["operation"] for row in bench.get(where).json()] == ["Build", "Strip"]


def test_a_hold_an_advisory_and_a_tick() -> None:
    order, desk = WorkOrderFactory(state="on_the_bench"), client_of(FrontDeskFactory())
    bench, where = client_of(UserFactory()), f"/api/work-orders/{order.pk}"
    hold = desk.post(
        f"{where}/holds", {"kind": "parts", "detail": "spokes"}, format="json"
    ).json()
    assert desk.get(where).json()["order"]["waiting_for"] == "spokes"
    released = desk.post(f"/api/holds/{hold['id']}/release", {}, format="json")
    assert released.json()["is_released"]
    bench.post(f"{where}/events", {"event": "resume"}, format="json")
    noticed = bench.post(
        f"{where}/advisories",
        {"what": "Cracked spoke", "place": "Rear wheel", "urgency": "unsafe"},
        format="json",
    ).json()
    told = f"/api/advisories/{noticed['id']}"
    desk.post(f"{told}/told", {"how": "by phone"}, format="json")
    left = desk.post(f"{told}/decline", {"reason": "next year"}, format="json")
    assert left.json()["outcome"] == "declined"
    bench.post(f"{where}/events", {"event": "finish_work"}, format="json")
    item = CheckItem.objects.standing_on(order.pk)[0]
    answer = bench.post(
        f"/api/check-items/{item.pk}/answer", {"answer": "right"}, format="json"
    )
    assert answer.json()["is_passed"]


def test_a_work_order_that_is_not_there_has_no_tasks() -> None:
    assert client_of(UserFactory()).get("/api/work-orders/0/tasks").status_code == 404
