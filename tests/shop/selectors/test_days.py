"""A technician's own day."""

from datetime import timedelta

import pytest
from pytest_django import DjangoAssertNumQueries

from shop.domain.refusals import NotAllowed, NotFound
from shop.models import User
from shop.selectors.days import MyDay, my_day, task_offer
from tests.builders import (
    MORNING,
    ClockFactory,
    FrontDeskFactory,
    LabourLineFactory,
    TaskFactory,
    UserFactory,
    WorkOrderFactory,
)

pytestmark = pytest.mark.django_db
DAY = MORNING.date()


def day_of(person: User) -> MyDay:
    return my_day(viewer=person.as_viewer(), day=DAY, today=DAY, at=MORNING)


def test_the_day_adds_up_what_is_borne_by_whom() -> None:
    mo = UserFactory()
    for minutes, billing in ((60, "billable"), (18, "goodwill"), (12, "warranty")):
        LabourLineFactory(technician=mo, minutes=minutes, billing=billing)
    LabourLineFactory(technician=mo, done_on=DAY - timedelta(days=1))
    LabourLineFactory()
    LabourLineFactory(
        technician=mo, voided_at=MORNING, voided_by=mo, void_reason="twice"
    )
    page = day_of(mo)
    assert [entry.is_void for entry in page.entries] == [False, False, False, True]
    assert [share.minutes for share in page.shares] == [60, 18, 12]
    assert (page.minutes, page.time_text) == (90, "1 h 30 min")


def test_clocked_and_entered_by_hand_are_told_apart() -> None:
    mo = UserFactory()
    LabourLineFactory(technician=mo, clock=ClockFactory(technician=mo))
    LabourLineFactory(technician=mo, entry_reason="phone was flat")
    entries = day_of(mo).entries
    assert [entry.was_clocked for entry in entries] == [True, False]
    assert entries[1].entry_reason == "phone was flat"


def test_own_open_tasks_on_the_bench_are_offered_before_nobodys() -> None:
    mo = UserFactory()
    bench = WorkOrderFactory(state="on_the_bench")
    nobodys = TaskFactory(work_order=bench)
    own = TaskFactory(work_order=bench, technician=mo, state="planned")
    TaskFactory(work_order=bench, technician=UserFactory())
    TaskFactory(work_order=bench, technician=mo, state="done")
    TaskFactory(work_order=WorkOrderFactory(state="waiting"), technician=mo)
    assert [offer.id for offer in day_of(mo).offers] == [own.pk, nobodys.pk]


def test_the_desk_has_no_day_at_the_bench() -> None:
    with pytest.raises(NotAllowed):
        day_of(FrontDeskFactory())


def test_a_task_is_offered_by_its_number() -> None:
    task, viewer = TaskFactory(), UserFactory().as_viewer()
    assert task_offer(task_id=task.pk, viewer=viewer).operation == task.operation
    with pytest.raises(NotFound):
        task_offer(task_id=404, viewer=viewer)


def test_a_long_day_costs_no_more_queries_than_a_short_one(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    mo = UserFactory()
    bench = WorkOrderFactory(state="on_the_bench")
    for size in (1, 6):
        LabourLineFactory.create_batch(size, technician=mo)
        TaskFactory.create_batch(size, work_order=bench)
        with django_assert_num_queries(4):
            day_of(mo)
