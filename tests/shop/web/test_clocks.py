from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone

from shop.domain.roles import Role
from shop.models import Clock, LabourLine, ShopSettings, User
from tests.builders import (
    ClockFactory,
    ShopSettingsFactory,
    TaskFactory,
    UserFactory,
    WorkOrderFactory,
)
from tests.shop.web.pages import (
    as_role,
    error_at,
    html,
    no_query_while_rendering,
    queries_of,
    signed_in,
    url,
    words,
)

pytestmark = pytest.mark.django_db
REPAIR = {"kind": "repair", "billing": "billable", "note": ""}


@pytest.fixture
def mo() -> User:
    ShopSettingsFactory.create(clock_limit_hours=24)
    return UserFactory.create(first_name="Mo")


@pytest.fixture
def bench(mo: User) -> Client:
    return signed_in(mo)


def a_task(operation: str = "True the wheel") -> int:
    order = WorkOrderFactory.create(state="on_the_bench")
    pk: int = TaskFactory.create(work_order=order, operation=operation).pk
    return pk


def where_it_is_noon() -> str:
    """Return a zone far from midnight: past that, a clock counts as forgotten."""
    ahead = 12 - timezone.now().hour
    return f"Etc/GMT{-ahead:+d}"


def long_ago(mo: User) -> Clock:
    started_at = timezone.now() - timedelta(days=3)
    task = TaskFactory.create(work_order=WorkOrderFactory.create(state="on_the_bench"))
    return ClockFactory.create(technician=mo, task=task, started_at=started_at)


def test_a_technician_clocks_on_and_sees_the_clock_on_every_page(
    bench: Client, mo: User
) -> None:
    answer = bench.post(url("clock_on", a_task()), REPAIR, follow=True)
    assert "Clocked on: True the wheel" in words(answer)
    clock = Clock.objects.get(technician=mo)
    for name in ("today", "my_day", "bikes", "account"):
        page = html(bench.get(url(name)))
        assert url("clock_off", clock.pk) in page, name
        assert "Stop<span" in page


def test_the_bar_is_nobody_elses(bench: Client) -> None:
    bench.post(url("clock_on", a_task()), REPAIR)
    for role in Role:
        assert "clock-bar" not in html(as_role(role).get(url("account")))


def test_stopping_goes_on_to_the_day_and_says_what_was_booked(
    bench: Client, mo: User
) -> None:
    ShopSettings.objects.update(time_zone=where_it_is_noon())
    at = timezone.now() - timedelta(minutes=3)
    clock = ClockFactory.create(technician=mo, started_at=at, task__state="underway")
    answer = bench.post(url("clock_off", clock.pk), follow=True)
    assert "3 min booked" in words(answer)
    assert "Entries" in words(answer)
    assert LabourLine.objects.get().minutes == 3
    again = bench.post(url("clock_off", clock.pk), follow=True)
    assert "has been stopped already" in words(again)


def test_with_a_clock_running_the_page_offers_to_change_over_in_one_step(
    bench: Client, mo: User
) -> None:
    first, second = a_task("Renew the shoes"), a_task("Pack the bearings")
    bench.post(url("clock_on", first), REPAIR)
    page = bench.get(url("clock_on", second))
    assert "One clock runs at a time" in words(page)
    assert "Stop “Renew the shoes” and clock on" in words(page)
    assert f'action="{url("clock_change_over", second)}"' in html(page)
    bench.post(url("clock_change_over", second), REPAIR)
    assert Clock.objects.running().get(technician=mo).task_id == second


def test_clocking_on_twice_from_two_tabs_asks_instead_of_breaking(
    bench: Client,
) -> None:
    first, second = a_task("Renew the shoes"), a_task("Pack the bearings")
    bench.post(url("clock_on", first), REPAIR)
    asked = bench.post(url("clock_on", second), {**REPAIR, "note": "Left side"})
    assert asked.status_code == 422
    assert "You are clocked on to “Renew the shoes”" in words(asked)
    assert f'action="{url("clock_change_over", second)}"' in html(asked)
    assert 'value="Left side"' in html(asked)


def test_a_forgotten_clock_is_offered_for_correction(bench: Client, mo: User) -> None:
    clock = long_ago(mo)
    assert "Forgotten?" in words(bench.get(url("account")))
    asked = bench.post(url("clock_off", clock.pk), follow=True)
    assert "When did the work end?" in words(asked)
    assert "has run past midnight" in words(asked)
    assert not LabourLine.objects.exists()
    ended = timezone.localtime(clock.started_at) + timedelta(hours=1)
    given = {"stopped_at": f"{ended:%Y-%m-%dT%H:%M}", "reason": "Went home"}
    done = bench.post(url("clock_correct", clock.pk), given, follow=True)
    assert "booked:" in words(done)
    assert set(LabourLine.objects.values_list("entry_reason", flat=True)) == {
        "Went home"
    }


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"reason": " "}, "reason"),
        ({"stopped_at": "at five"}, "stopped_at"),
        ({"stopped_at": ""}, "stopped_at"),
        ({"stopped_at": "2999-01-01T10:00"}, "stopped_at"),
        ({"stopped_at": "1999-01-01T10:00"}, "stopped_at"),
    ],
)
def test_a_correction_that_cannot_be_stands_at_its_field(
    bench: Client, mo: User, given: dict[str, str], field: str
) -> None:
    clock = long_ago(mo)
    ended = timezone.localtime(clock.started_at) + timedelta(hours=1)
    whole = {"stopped_at": f"{ended:%Y-%m-%dT%H:%M}", "reason": "Went home"}
    answer = bench.post(url("clock_correct", clock.pk), {**whole, **given})
    assert answer.status_code == 422
    assert error_at(answer, field)
    clock.refresh_from_db()
    assert clock.stopped_at is None


def test_the_desk_sees_who_is_clocked_on_and_puts_a_forgotten_clock_right(
    mo: User,
) -> None:
    clock, desk = long_ago(mo), as_role(Role.FRONT_DESK)
    page = desk.get(url("clocks"))
    assert "Forgotten clocks" in words(page)
    assert url("clock_correct", clock.pk) in html(page)
    assert desk.get(url("clock_correct", clock.pk)).status_code == 200
    assert desk.get(url("clock_on", clock.task_id)).status_code == 403


def test_a_colleagues_clock_is_neither_stopped_nor_corrected(mo: User) -> None:
    clock = long_ago(mo)
    for client in (as_role(Role.TECHNICIAN), as_role(Role.STOREKEEPER)):
        assert client.post(url("clock_off", clock.pk)).status_code == 403
        assert client.get(url("clock_correct", clock.pk)).status_code == 403
        assert "Put it right" not in words(client.get(url("clocks")))


def test_what_is_not_there_has_no_page(bench: Client) -> None:
    assert bench.get(url("clock_on", 404)).status_code == 404
    assert bench.post(url("clock_off", 404)).status_code == 404
    assert bench.get(url("clock_correct", 404)).status_code == 404


def test_the_templates_ask_the_database_nothing(
    bench: Client, mo: User, monkeypatch: pytest.MonkeyPatch
) -> None:
    clock = long_ago(mo)
    with no_query_while_rendering(monkeypatch):
        for address in (
            url("clocks"),
            url("clock_on", clock.task_id),
            url("clock_correct", clock.pk),
            url("my_day"),
            url("work_order", clock.task.work_order_id),
        ):
            assert bench.get(address).status_code == 200, address


def test_more_clocks_cost_no_more_queries(bench: Client) -> None:
    ClockFactory.create()
    few = queries_of(bench, url("clocks"))
    ClockFactory.create_batch(5)
    assert queries_of(bench, url("clocks")) == few
