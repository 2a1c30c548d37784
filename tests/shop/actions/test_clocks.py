"""Clocking on, over and off: what is booked, on which day, at which rate."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from shop.actions.clocks import change_over, clock_off, clock_on, correct_clock
from shop.actions.labour_rates import set_labour_rate
from shop.domain.clocks import ClockEntry
from shop.domain.labour_rates import RateEntry
from shop.domain.refusals import IllegalMove, NotAllowed, NotFound, Refusal
from shop.models import Clock, HistoryEntry, LabourLine, Task
from tests.builders import (
    MORNING,
    ClockFactory,
    FrontDeskFactory,
    OwnerFactory,
    ShopSettingsFactory,
    StorekeeperFactory,
    TaskFactory,
    UserFactory,
    WorkOrderFactory,
)

pytestmark = pytest.mark.django_db
REPAIR = ClockEntry(kind="repair")
NOON = MORNING + timedelta(hours=3, minutes=30)


def task_on_bench(**said: object) -> Task:
    return TaskFactory(work_order=WorkOrderFactory(state="on_the_bench"), **said)


def test_a_morning_on_a_task_becomes_a_labour_line() -> None:
    ShopSettingsFactory(hourly_rate=Decimal("54.00"))
    task, mo = task_on_bench(operation="Renew the earth strap"), UserFactory()
    clock = clock_on(task_id=task.pk, entry=REPAIR, acting_user=mo, at=MORNING)
    clock_off(clock_id=clock.pk, acting_user=mo, at=NOON)
    line = LabourLine.objects.get()
    assert (line.task, line.clock, line.technician) == (task, clock, mo)
    assert (line.minutes, line.hourly_rate) == (210, Decimal(54))
    assert (line.description, line.done_on) == (
        "Renew the earth strap",
        date(2026, 3, 2),
    )
    assert (line.billing, line.entry_reason) == ("billable", "")
    verbs = HistoryEntry.objects.of_work_order(task.work_order_id).values_list("verb")
    assert {verb for (verb,) in verbs} == {"clock.started", "labour.added"}


def test_clocking_on_starts_a_planned_task_and_takes_it() -> None:
    task, mo = task_on_bench(state="planned"), UserFactory()
    clock_on(task_id=task.pk, entry=REPAIR, acting_user=mo, at=MORNING)
    task.refresh_from_db()
    assert (task.state, task.technician) == ("underway", mo)


def test_a_second_clock_is_refused_and_says_where_the_first_runs() -> None:
    mo = UserFactory()
    first = task_on_bench(operation="True the front wheel")
    clock_on(task_id=first.pk, entry=REPAIR, acting_user=mo, at=MORNING)
    with pytest.raises(IllegalMove, match="True the front wheel") as refused:
        clock_on(task_id=task_on_bench().pk, entry=REPAIR, acting_user=mo, at=NOON)
    assert refused.value.code == "clock-running"
    assert Clock.objects.get().task == first


def test_the_database_itself_keeps_it_to_one_running_clock() -> None:
    mo = UserFactory()
    ClockFactory(technician=mo)
    ClockFactory(technician=mo, stopped_at=NOON)
    ClockFactory()
    with pytest.raises(IntegrityError), transaction.atomic():
        ClockFactory(technician=mo)


def test_changing_over_stops_the_one_and_starts_the_other() -> None:
    mo, first, second = UserFactory(), task_on_bench(), task_on_bench()
    clock_on(task_id=first.pk, entry=REPAIR, acting_user=mo, at=MORNING)
    change_over(task_id=second.pk, entry=REPAIR, acting_user=mo, at=NOON)
    assert LabourLine.objects.get().task == first
    assert Clock.objects.running().get().task == second


def test_changing_over_with_nothing_running_just_starts() -> None:
    task = task_on_bench()
    change_over(task_id=task.pk, entry=REPAIR, acting_user=UserFactory(), at=NOON)
    assert Clock.objects.running().get().task == task


def test_a_change_over_that_cannot_start_leaves_the_first_clock_running() -> None:
    mo, first = UserFactory(), task_on_bench()
    clock_on(task_id=first.pk, entry=REPAIR, acting_user=mo, at=MORNING)
    done = task_on_bench(state="done")
    with pytest.raises(IllegalMove, match="done"), transaction.atomic():
        change_over(task_id=done.pk, entry=REPAIR, acting_user=mo, at=NOON)
    assert Clock.objects.running().get().task == first
    assert not LabourLine.objects.exists()


def test_the_rate_is_the_one_of_the_moment_the_clock_was_started() -> None:
    ShopSettingsFactory(hourly_rate=Decimal("54.00"))
    mo, owner, task = UserFactory(), OwnerFactory(), task_on_bench()
    for kind, rate, who in (("repair", 58, None), ("repair", 61, mo.pk)):
        entry = RateEntry(kind=kind, hourly_rate=Decimal(rate), technician_id=who)
        set_labour_rate(entry=entry, acting_user=owner, at=MORNING)
    clock = clock_on(task_id=task.pk, entry=REPAIR, acting_user=mo, at=MORNING)
    dearer = RateEntry(kind="repair", hourly_rate=Decimal(99), technician_id=mo.pk)
    set_labour_rate(entry=dearer, acting_user=owner, at=NOON)
    clock_off(clock_id=clock.pk, acting_user=mo, at=NOON)
    assert LabourLine.objects.get().hourly_rate == 61


def test_the_shops_rounding_rule_decides_the_minutes() -> None:
    ShopSettingsFactory(
        time_rounding="up", time_step_minutes=15, time_minimum_minutes=30
    )
    mo = UserFactory()
    for worked, booked in ((5, 30), (31, 45), (60, 60)):
        clock = clock_on(
            task_id=task_on_bench().pk, entry=REPAIR, acting_user=mo, at=MORNING
        )
        at = MORNING + timedelta(minutes=worked)
        clock_off(clock_id=clock.pk, acting_user=mo, at=at)
        assert LabourLine.objects.get(clock=clock).minutes == booked


def test_a_slip_of_the_finger_books_nothing_but_is_told() -> None:
    mo, task = UserFactory(), task_on_bench()
    clock = clock_on(task_id=task.pk, entry=REPAIR, acting_user=mo, at=MORNING)
    at = MORNING + timedelta(seconds=59)
    clock_off(clock_id=clock.pk, acting_user=mo, at=at)
    assert not LabourLine.objects.exists()
    last = HistoryEntry.objects.of_work_order(task.work_order_id).order_by("-pk")[0]
    assert (last.verb, "nothing booked" in last.summary) == ("clock.stopped", True)


def test_goodwill_is_said_when_clocking_on_and_stays_on_the_line() -> None:
    mo = UserFactory()
    entry = ClockEntry(kind="repair", billing="goodwill", note="Again, our mistake")
    clock = clock_on(
        task_id=task_on_bench().pk, entry=entry, acting_user=mo, at=MORNING
    )
    clock_off(clock_id=clock.pk, acting_user=mo, at=NOON)
    line = LabourLine.objects.get()
    assert (line.billing, line.description) == ("goodwill", "Again, our mistake")


def test_a_clock_past_midnight_is_corrected_and_booked_on_both_days() -> None:
    ShopSettingsFactory(time_zone="Europe/Berlin", clock_limit_hours=10)
    mo = UserFactory()
    began = datetime(2026, 3, 2, 21, 30, tzinfo=UTC)  # 22:30 there
    ended = began + timedelta(hours=2, minutes=30)
    clock = clock_on(task_id=task_on_bench().pk, entry=REPAIR, acting_user=mo, at=began)
    with pytest.raises(IllegalMove) as refused:
        clock_off(clock_id=clock.pk, acting_user=mo, at=ended)
    assert refused.value.code == "clock-forgotten"
    correct_clock(
        clock_id=clock.pk,
        stopped_at=ended,
        reason="Worked late for the club's run",
        acting_user=mo,
        at=ended,
    )
    lines = LabourLine.objects.order_by("done_on")
    assert [(line.done_on.day, line.minutes) for line in lines] == [(2, 90), (3, 60)]
    assert {line.entry_reason for line in lines} == {"Worked late for the club's run"}


def test_a_clock_forgotten_over_a_day_is_stopped_when_work_really_ended() -> None:
    mo = UserFactory()
    clock = ClockFactory(
        technician=mo, task=task_on_bench(), started_at=MORNING - timedelta(days=2)
    )
    with pytest.raises(Refusal) as refused:
        correct_clock(
            clock_id=clock.pk,
            stopped_at=MORNING,
            reason="x",
            acting_user=mo,
            at=MORNING,
        )
    assert refused.value.code == "stretch-too-long"
    correct_clock(
        clock_id=clock.pk,
        stopped_at=clock.started_at + timedelta(hours=4),
        reason="Forgot to clock off",
        acting_user=mo,
        at=MORNING,
    )
    assert LabourLine.objects.get().minutes == 240


def test_a_correction_needs_a_reason() -> None:
    mo = UserFactory()
    clock = ClockFactory(technician=mo, task=task_on_bench())
    with pytest.raises(Refusal) as refused:
        correct_clock(
            clock_id=clock.pk, stopped_at=NOON, reason=" ", acting_user=mo, at=NOON
        )
    assert refused.value.field == "reason"


def test_the_desk_stops_a_technicians_clock_but_starts_none() -> None:
    desk, clock = FrontDeskFactory(), ClockFactory(task=task_on_bench())
    with pytest.raises(NotAllowed):
        clock_on(task_id=clock.task_id, entry=REPAIR, acting_user=desk, at=NOON)
    clock_off(clock_id=clock.pk, acting_user=desk, at=NOON)
    assert LabourLine.objects.get().technician == clock.technician


def test_nobody_else_stops_a_colleagues_clock() -> None:
    clock = ClockFactory(task=task_on_bench())
    for other in (UserFactory(), StorekeeperFactory()):
        with pytest.raises(NotAllowed):
            clock_off(clock_id=clock.pk, acting_user=other, at=NOON)


def test_a_clock_is_stopped_once() -> None:
    clock = ClockFactory(task=task_on_bench())
    mo = clock.technician
    clock_off(clock_id=clock.pk, acting_user=mo, at=NOON)
    with pytest.raises(IllegalMove) as refused:
        clock_off(clock_id=clock.pk, acting_user=mo, at=NOON)
    assert refused.value.code == "clock-stopped"
    assert LabourLine.objects.count() == 1


def test_what_was_worked_before_a_work_order_was_called_off_is_booked() -> None:
    order = WorkOrderFactory(state="called_off")
    clock = ClockFactory(task=TaskFactory(work_order=order))
    clock_off(clock_id=clock.pk, acting_user=clock.technician, at=NOON)
    assert LabourLine.objects.get().work_order == order


@pytest.mark.parametrize("state", ["booked_in", "waiting", "ready", "closed"])
def test_no_clock_starts_while_the_bike_is_not_on_the_bench(state: str) -> None:
    task = TaskFactory(work_order=WorkOrderFactory(state=state))
    with pytest.raises(IllegalMove):
        clock_on(task_id=task.pk, entry=REPAIR, acting_user=UserFactory(), at=MORNING)
    assert not Clock.objects.exists()


@pytest.mark.parametrize("number", [0, 404, 10**30])
def test_tasks_and_clocks_that_are_not_there(number: int) -> None:
    mo = UserFactory()
    for action in (clock_on, change_over):
        with pytest.raises(NotFound):
            action(task_id=number, entry=REPAIR, acting_user=mo, at=MORNING)
    with pytest.raises(NotFound):
        clock_off(clock_id=number, acting_user=mo, at=MORNING)


def test_a_clock_keeps_its_beginning_and_its_rate() -> None:
    clock = ClockFactory()
    for change in ({"started_at": NOON}, {"hourly_rate": Decimal(1)}):
        with pytest.raises(IntegrityError), transaction.atomic():
            Clock.objects.filter(pk=clock.pk).update(**change)
