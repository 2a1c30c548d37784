"""Plans are worked out once, by whoever holds them, and repeat from their seed."""

from datetime import date, datetime, timedelta
from decimal import Decimal

import pytest

from shop.actions import plan_building, plans
from shop.domain.plans import LEASE, MOST_TRIES
from shop.models import (
    Absence,
    HistoryEntry,
    Hold,
    OutsideWork,
    Plan,
    PlanLine,
    Supplier,
    WorkingHours,
)
from tests.builders import (
    MORNING,
    FrontDeskFactory,
    LabourLineFactory,
    UserFactory,
    WorkOrderFactory,
)
from tests.shop.plan_room import FIRST, MONDAY, line_of, rewire, task_of, worked_out

pytestmark = pytest.mark.django_db


def noon() -> datetime:
    return MONDAY


def test_the_plan_of_one_job_gives_three_dates_a_path_and_when_and_from_what() -> None:
    ada = UserFactory(first_name="Ada")
    order = rewire(technician=ada, promised_on=date(2026, 3, 6))
    plan = worked_out()
    line = line_of(order)
    assert (plan.state, plan.computed_at, plan.first_day) == ("ready", MONDAY, FIRST)
    assert (plan.owner, plan.lease_until) == ("", None)
    assert line.even_on is not None
    assert line.likely_on is not None
    assert line.nearly_certain_on is not None
    # 23.5 hours (3.2 + 13.3 + 7) at six a day: Monday to Thursday, on the means.
    assert line.even_on in {date(2026, 3, 5), date(2026, 3, 6)}
    assert line.even_on <= line.likely_on <= line.nearly_certain_on
    assert line.path == [task.pk for task in order.tasks.order_by("position")]
    assert [said["critical_percent"] for said in line.tasks] == [100, 100, 100]
    assert {said["technician_id"] for said in line.tasks} == {ada.pk}
    assert 0 < (line.kept_percent or 0) < 100
    assert HistoryEntry.objects.filter(verb="plan.ready").count() == 1


def test_the_same_seed_and_facts_give_the_same_plan() -> None:
    order = rewire()
    worked_out()
    told = line_of(order)
    first = (told.even_on, told.likely_on, told.nearly_certain_on, told.tasks)
    worked_out()
    told = line_of(order)
    assert (told.even_on, told.likely_on, told.nearly_certain_on, told.tasks) == first


def test_only_the_last_plan_is_kept() -> None:
    rewire()
    worked_out()
    last = worked_out()
    assert list(Plan.objects.all()) == [last]
    assert PlanLine.objects.count() == 1


def test_a_queue_with_nothing_in_it_is_planned_too() -> None:
    WorkOrderFactory(state="on_the_bench")
    done = WorkOrderFactory(state="closed")
    task_of(done, "Over long ago")
    plan = worked_out()
    assert plan.state == "ready"
    assert not PlanLine.objects.exists()


def test_agreed_work_with_the_earlier_promise_goes_first() -> None:
    ada = UserFactory()
    late = rewire(technician=ada, promised_on=date(2026, 4, 30))
    soon = rewire(technician=ada, promised_on=date(2026, 3, 20))
    asked = WorkOrderFactory(state="booked_in", technician=ada)
    task_of(asked, "Look at the dynamo")
    worked_out()
    assert [line_of(order).position for order in (soon, late, asked)] == [1, 2, 3]
    ends = [line_of(order).even_on for order in (soon, late, asked)]
    assert ends == sorted(day for day in ends if day is not None)


def test_days_away_and_shorter_weeks_make_the_promise_later() -> None:
    ada = UserFactory()
    order = rewire(technician=ada)
    worked_out()
    before = line_of(order).even_on
    Absence.objects.create(
        technician=ada,
        first_on=FIRST,
        last_on=FIRST + timedelta(days=13),
        entered_by=ada,
        created_at=MORNING,
    )
    worked_out()
    away = line_of(order).even_on
    WorkingHours.objects.create(technician=ada, monday=1, tuesday=1, wednesday=1)
    worked_out()
    shorter = line_of(order).even_on
    assert before is not None
    assert away == before + timedelta(days=14)
    assert shorter is not None
    assert shorter > away


@pytest.mark.parametrize(("days_ago", "finished_in"), [(0, 1), (3, 0)])
def test_hours_booked_on_a_task_come_off_and_so_does_what_was_worked_today(
    days_ago: int, finished_in: int
) -> None:
    ada = UserFactory()
    order = WorkOrderFactory(state="on_the_bench", technician=ada)
    task = task_of(order, "Make the new loom", ("12", "12", "12"), state="underway")
    worked_out()
    assert line_of(order).even_on == FIRST + timedelta(days=1)
    LabourLineFactory(
        work_order=order,
        task=task,
        technician=ada,
        minutes=6 * 60,
        done_on=FIRST - timedelta(days=days_ago),
    )
    worked_out()
    # Six hours are left; of a day of six, nothing is left where they were today's.
    assert line_of(order).even_on == FIRST + timedelta(days=finished_in)


def test_an_awaited_part_holds_its_task_and_outside_work_holds_the_last_one() -> None:
    ada = UserFactory()
    order = rewire(technician=ada)
    middle = order.tasks.order_by("position")[1]
    hold = Hold.objects.create(
        work_order=order,
        task=middle,
        kind="parts",
        detail="Cable, eleven colours",
        expected_on=date(2026, 3, 31),
        since=MORNING,
        placed_by=ada,
    )
    worked_out()
    line = line_of(order)
    assert line.even_on is not None
    assert line.even_on > date(2026, 3, 31)
    assert line.path[0] == middle.pk
    assert line.waits == [
        {
            "what": "Parts: Cable, eleven colours",
            "expected_on": "2026-03-31",
            "task_ids": [middle.pk],
        }
    ]
    hold.delete()
    OutsideWork.objects.create(
        number=101,
        work_order=order,
        supplier=Supplier.objects.create(
            name="Quarry Platers", lead_days=30, created_at=MORNING
        ),
        trade="plating",
        description="Head lamp shell, nickel",
        state="away",
        state_since=MORNING,
        sent_on=FIRST,
        tax_label="Standard",
        tax_percent=Decimal(20),
        made_by=ada,
        created_at=MORNING,
    )
    worked_out()
    line = line_of(order)
    last = order.tasks.order_by("position")[2]
    assert line.waits[0]["task_ids"] == [last.pk]
    assert line.waits[0]["expected_on"] == "2026-04-01"
    assert line.even_on is not None
    assert line.even_on >= date(2026, 4, 1)


@pytest.mark.parametrize("is_anybody_there", [True, False])
def test_where_nobody_works_there_is_no_date_and_no_fault(
    is_anybody_there: bool,
) -> None:
    order = WorkOrderFactory(state="on_the_bench")
    task_of(order, "Take the old loom out")
    if is_anybody_there:
        WorkingHours.objects.create(
            technician=UserFactory(),
            **dict.fromkeys(
                ("monday", "tuesday", "wednesday", "thursday", "friday"), 0
            ),
        )
    assert worked_out().state == "ready"
    line = line_of(order)
    assert (line.even_on, line.nearly_certain_on) == (None, None)


def test_what_cannot_be_worked_out_is_tried_again_and_then_put_aside(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    rewire()
    plan = plans.request_plan(acting_user=FrontDeskFactory(), at=MONDAY)

    def broken(*args: object, **kwargs: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(plan_building, "foreseen", broken)
    for number in range(MOST_TRIES):
        assert plan_building.work_out_next(
            acting_user=None, at=MONDAY + timedelta(minutes=number), clock=noon
        )
        plan.refresh_from_db()
    assert (plan.state, plan.tries) == ("failed", MOST_TRIES)
    assert "ZeroDivisionError" in plan.failure_reason
    monkeypatch.undo()
    assert worked_out(MONDAY + timedelta(hours=1)).state == "ready"


def test_a_plan_held_by_a_dead_worker_is_put_back_when_its_lease_is_over() -> None:
    rewire()
    plan = plans.request_plan(acting_user=FrontDeskFactory(), at=MONDAY)
    Plan.objects.update(state="working", owner="gone", lease_until=MONDAY + LEASE)
    assert plan_building.sweep_plans(acting_user=None, at=MONDAY) == 0
    assert plan_building.sweep_plans(acting_user=None, at=MONDAY + LEASE) == 1
    plan.refresh_from_db()
    assert (plan.state, plan.owner) == ("queued", "")


def test_a_plan_put_back_while_another_waits_is_put_aside() -> None:
    rewire()
    held = plans.request_plan(acting_user=FrontDeskFactory(), at=MONDAY)
    Plan.objects.update(state="working", owner="gone", lease_until=MONDAY)
    waiting = plans.request_plan(acting_user=FrontDeskFactory(), at=MONDAY)
    assert plan_building.sweep_plans(acting_user=None, at=MONDAY) == 1
    held.refresh_from_db()
    waiting.refresh_from_db()
    assert (held.state, waiting.state) == ("failed", "queued")


def test_who_lost_the_lease_hands_nothing_in() -> None:
    rewire()
    plan = plans.request_plan(acting_user=FrontDeskFactory(), at=MONDAY)

    def clock() -> datetime:
        Plan.objects.update(owner="another")
        return MONDAY

    plan_building.work_out_next(acting_user=None, at=MONDAY, clock=clock)
    plan.refresh_from_db()
    assert (plan.state, plan.owner) == ("working", "another")
    assert not PlanLine.objects.exists()
