"""The plan, hours and days away over the API."""

import pytest
from django.utils import timezone

from shop.models import Absence, Plan, WorkingHours
from tests.builders import FrontDeskFactory, StorekeeperFactory, UserFactory
from tests.shop.api.clients import client_of
from tests.shop.plan_room import rewire, worked_out

pytestmark = pytest.mark.django_db


def test_a_plan_is_asked_for_and_read_by_work_order_and_on_the_board() -> None:
    order = rewire()
    desk = client_of(FrontDeskFactory())
    asked = desk.post("/api/plan")
    assert asked.status_code == 202
    assert asked.json()["standing"]["is_under_way"] is True
    Plan.objects.all().delete()
    worked_out(timezone.now())
    told = desk.get(f"/api/work-orders/{order.pk}/plan").json()
    assert told["promise"]["even_on"] <= told["promise"]["nearly_certain_on"]
    assert told["path_words"].startswith("“Take the old loom out")
    assert [task["critical_percent"] for task in told["tasks"]] == [100, 100, 100]
    board = desk.get("/api/plan").json()
    assert board["promises"][0]["work_order_id"] == order.pk
    assert board["weeks"][0]["cells"][0]["load_label"]


def test_who_keeps_the_stores_reads_the_plan_and_asks_for_none() -> None:
    keeper = client_of(StorekeeperFactory())
    assert keeper.get("/api/plan").status_code == 200
    assert keeper.post("/api/plan").status_code == 403
    assert keeper.get("/api/work-orders/40400/plan").status_code == 404


def test_a_week_is_written_down_by_the_day_and_a_wrong_day_changes_nothing() -> None:
    ada = UserFactory()
    desk = client_of(FrontDeskFactory())
    address = f"/api/working-hours/{ada.pk}"
    answer = desk.patch(address, {"friday": "4.5"}, format="json")
    assert answer.json()["friday"] == "4.50"
    assert answer.json()["is_usual"] is False
    wrong = desk.patch(address, {"monday": "2", "friday": "25"}, format="json")
    assert wrong.status_code == 400
    assert WorkingHours.objects.get().monday == 6
    assert len(desk.get("/api/working-hours").json()) == 1


def test_days_away_are_entered_read_and_taken_back() -> None:
    ada = UserFactory()
    desk = client_of(FrontDeskFactory())
    address = f"/api/working-hours/{ada.pk}/absences"
    days = {"first_on": "2026-12-21", "last_on": "2026-12-27"}
    made = desk.post(address, days, format="json")
    assert made.status_code == 201
    one = f"/api/absences/{made.json()['id']}"
    assert desk.get(one).json()["last_on"] == "2026-12-27"
    wrong = desk.post(address, days | {"last_on": "2026-12-01"}, format="json")
    assert wrong.status_code == 400
    assert client_of(ada).delete(one).status_code == 403
    assert desk.delete(one).status_code == 204
    assert not Absence.objects.exists()
