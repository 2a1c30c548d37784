"""Clocks over the API: the same actions, the same refusals."""

from datetime import timedelta

import pytest
from django.utils import timezone

from shop.models import Clock, LabourLine
from tests.builders import (
    ClockFactory,
    FrontDeskFactory,
    LabourLineFactory,
    ShopSettingsFactory,
    StorekeeperFactory,
    TaskFactory,
    UserFactory,
    WorkOrderFactory,
)
from tests.shop.api.clients import client_of

pytestmark = pytest.mark.django_db
REPAIR = {"kind": "repair"}


def a_task() -> int:
    order = WorkOrderFactory(state="on_the_bench")
    pk: int = TaskFactory(work_order=order).pk
    return pk


def test_on_refused_over_and_off() -> None:
    ShopSettingsFactory(clock_limit_hours=24)
    mo = UserFactory()
    client, first, second = client_of(mo), a_task(), a_task()
    started = client.post(f"/api/tasks/{first}/clock-on", REPAIR, format="json")
    assert started.status_code == 201
    assert (started.json()["task_id"], started.json()["is_running"]) == (first, True)
    refused = client.post(f"/api/tasks/{second}/clock-on", REPAIR, format="json")
    assert (refused.status_code, refused.json()["code"]) == (409, "clock-running")
    over = client.post(
        f"/api/tasks/{second}/change-over",
        {**REPAIR, "billing": "warranty", "note": "Under our word"},
        format="json",
    )
    assert (over.status_code, over.json()["billing"]) == (201, "warranty")
    assert [row["id"] for row in client.get("/api/clocks").json()] == [
        over.json()["id"]
    ]
    off = client.post(f"/api/clocks/{over.json()['id']}/off")
    assert (off.status_code, off.json()["is_running"]) == (200, False)
    again = client.post(f"/api/clocks/{over.json()['id']}/off")
    assert (again.status_code, again.json()["code"]) == (409, "clock-stopped")


def test_a_forgotten_clock_is_refused_and_then_corrected() -> None:
    started_at = timezone.now() - timedelta(days=2)
    clock = ClockFactory(started_at=started_at)
    client, where = client_of(clock.technician), f"/api/clocks/{clock.pk}"
    assert client.get(where).json()["is_forgotten"] is True
    refused = client.post(f"{where}/off")
    assert (refused.status_code, refused.json()["code"]) == (409, "clock-forgotten")
    ended = (started_at + timedelta(minutes=30)).isoformat()
    done = client.post(
        f"{where}/correct", {"stopped_at": ended, "reason": "Forgot"}, format="json"
    )
    assert (done.status_code, done.json()["booked_minutes"]) == (200, 30)


@pytest.mark.parametrize(
    "body",
    [
        {},
        {"kind": "magic"},
        {"kind": "repair", "billing": "barter"},
        {"kind": "repair", "note": "x" * 401},
        {"kind": ["repair"]},
    ],
)
def test_a_body_that_makes_no_sense_starts_nothing(body: dict[str, object]) -> None:
    client = client_of(UserFactory())
    answer = client.post(f"/api/tasks/{a_task()}/clock-on", body, format="json")
    assert answer.status_code == 400
    assert not Clock.objects.exists()


def test_the_day_and_the_effort_are_read() -> None:
    mo, task = UserFactory(), TaskFactory()
    order = task.work_order
    LabourLineFactory(technician=mo, work_order=order, task=task, minutes=45)
    client = client_of(mo)
    day = client.get("/api/me/day?day=2026-03-02").json()
    assert (day["minutes"], len(day["entries"])) == (45, 1)
    assert client.get("/api/me/day?day=soon").status_code == 400
    effort = client.get(f"/api/work-orders/{order.pk}/effort").json()
    assert (effort["estimated_minutes"], effort["actual_minutes"]) == (120, 45)


def test_roles_and_strangers_are_kept_out() -> None:
    clock = ClockFactory()
    where = f"/api/clocks/{clock.pk}"
    for person in (UserFactory(), StorekeeperFactory()):
        assert client_of(person).post(f"{where}/off").status_code == 403
    desk = client_of(FrontDeskFactory())
    task = f"/api/tasks/{clock.task_id}"
    for path in ("clock-on", "change-over"):
        answer = desk.post(f"{task}/{path}", REPAIR, format="json")
        assert answer.status_code == 403
    assert desk.get("/api/me/day").status_code == 403
    assert not LabourLine.objects.exists()
