"""The promise on the work order's page, and the board."""

from datetime import date

import pytest
from django.utils import timezone

from shop.domain.roles import Role
from shop.models import Plan
from tests.builders import OwnerFactory, UserFactory, WorkOrderFactory
from tests.shop.plan_room import rewire, worked_out
from tests.shop.web.pages import (
    as_role,
    no_query_while_rendering,
    queries_of,
    signed_in,
    url,
    words,
)

pytestmark = pytest.mark.django_db


def test_the_panel_tells_three_dates_and_what_they_hang_on() -> None:
    order = rewire()
    worked_out(timezone.now())
    said = words(as_role(Role.FRONT_DESK).get(url("plan_panel", order.pk)))
    assert "Even chance 50 in 100" in said
    assert "Likely 80 in 100" in said
    assert "Nearly certain 95 in 100" in said
    assert (
        "“Take the old loom out”, then “Make the new loom”, then “Fit and test"
    ) in said
    assert "2000 draws, seed" in said
    assert "Out of date" not in said


def test_the_ticket_has_a_place_for_the_promise_and_it_opens_without_a_script() -> None:
    order = rewire()
    client = as_role(Role.TECHNICIAN)
    page = client.get(url("work_order", order.pk))
    assert url("plan_panel", order.pk).encode() in page.content
    assert client.get(url("plan", order.pk)).status_code == 200


@pytest.mark.parametrize("has_tasks", [True, False])
def test_without_a_plan_or_without_tasks_the_panel_says_what_to_do(
    has_tasks: bool,
) -> None:
    order = rewire() if has_tasks else WorkOrderFactory()
    said = words(as_role(Role.FRONT_DESK).get(url("plan", order.pk)))
    assert "No plan has been worked out yet" in said
    assert "Work the plan out" in said
    assert ("A date needs tasks" in said) is not has_tasks


def test_a_plan_of_another_day_is_out_of_date_on_the_panel_and_on_the_board() -> None:
    order = rewire()
    worked_out()
    client = as_role(Role.OWNER)
    for address in (url("plan", order.pk), url("plan_board")):
        assert "Out of date" in words(client.get(address))


def test_whoever_plans_can_ask_for_a_new_plan_and_goes_back_where_they_were() -> None:
    order = rewire()
    client = as_role(Role.TECHNICIAN)
    back = url("work_order", order.pk)
    answer = client.post(url("plan_work_out"), {"next": back})
    assert answer["Location"] == back
    assert Plan.objects.get().state == "queued"
    answer = client.post(url("plan_work_out"), {"next": "https://elsewhere.example/"})
    assert answer["Location"] == url("plan_board")
    said = words(client.get(url("plan", order.pk)))
    assert "A plan is being worked out" in said
    assert as_role(Role.STOREKEEPER).post(url("plan_work_out")).status_code == 403


def test_the_board_names_every_bench_and_every_promise() -> None:
    ada = UserFactory(first_name="Ada")
    today = timezone.localdate()
    soon = rewire(technician=ada, promised_on=today)
    later = rewire(technician=ada, promised_on=date(today.year + 1, 12, 1))
    worked_out(timezone.now())
    said = words(as_role(Role.FRONT_DESK).get(url("plan_board")))
    assert soon.label in said
    assert later.label in said
    assert "Ada" in said


def test_overload_is_told_with_the_hours_that_are_too_much() -> None:
    ada = UserFactory()
    for _ in range(3):
        rewire(technician=ada, promised_on=timezone.localdate())
    worked_out(timezone.now())
    # Three times 23.5 hours, more than any week has.
    said = words(as_role(Role.OWNER).get(url("plan_board")))
    assert "Overload:" in said
    assert "too much" in said


def test_a_board_without_a_plan_and_one_with_nothing_in_it_say_so() -> None:
    client = as_role(Role.OWNER)
    assert "No plan has been worked out yet" in words(client.get(url("plan_board")))
    bare = WorkOrderFactory()
    worked_out(timezone.now())
    said = words(client.get(url("plan_board")))
    assert f"No tasks yet, so no date: {bare.label}" in said
    assert "No open work order has tasks" in said


def test_more_work_takes_no_more_queries_and_pages_ask_none(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    client = signed_in(OwnerFactory())
    ada = UserFactory()
    order = rewire(technician=ada)
    worked_out(timezone.now())
    pages = (url("plan_panel", order.pk), url("plan_board"))
    before = [queries_of(client, page) for page in pages]
    for _ in range(4):
        rewire(technician=ada)
    worked_out(timezone.now())
    assert [queries_of(client, page) for page in pages] == before
    with no_query_while_rendering(monkeypatch):
        for page in pages:
            assert client.get(page).status_code == 200
