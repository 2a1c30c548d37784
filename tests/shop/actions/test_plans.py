"""Asking for a plan: one waits at a time, and what is out of date is renewed."""

from datetime import timedelta

import pytest

from shop.actions.plans import renew_plan, request_plan
from shop.domain.plans import REST
from shop.domain.refusals import NotAllowed
from shop.models import HistoryEntry, Plan, WorkOrder
from tests.builders import FrontDeskFactory, StorekeeperFactory, UserFactory
from tests.shop.plan_room import MONDAY, rewire, task_of, worked_out

pytestmark = pytest.mark.django_db


def test_a_plan_is_asked_for_once_however_many_ask() -> None:
    first = request_plan(acting_user=UserFactory(), at=MONDAY)
    again = request_plan(acting_user=FrontDeskFactory(), at=MONDAY)
    assert first == again
    assert first.state == "queued"
    assert HistoryEntry.objects.filter(verb="plan.requested").count() == 1


def test_who_keeps_the_stores_does_not_plan_the_work() -> None:
    with pytest.raises(NotAllowed):
        request_plan(acting_user=StorekeeperFactory(), at=MONDAY)
    assert not Plan.objects.exists()


def test_a_plan_out_of_date_is_renewed_after_a_rest_and_a_good_one_is_not() -> None:
    order = rewire()
    plan = worked_out()
    later = MONDAY + REST
    assert renew_plan(acting_user=None, at=later) is None
    changed(order.pk)
    assert renew_plan(acting_user=None, at=MONDAY + REST / 2) is None
    renewed = renew_plan(acting_user=None, at=later)
    assert renewed is not None
    assert (renewed.requested_by, renewed.state) == (None, "queued")
    assert renewed.pk != plan.pk
    assert renew_plan(acting_user=None, at=later + REST) is None


def test_yesterdays_plan_is_renewed_although_nothing_happened() -> None:
    rewire()
    worked_out()
    assert renew_plan(acting_user=None, at=MONDAY + timedelta(days=1)) is not None


def test_a_shop_that_never_planned_is_left_in_peace() -> None:
    rewire()
    assert renew_plan(acting_user=None, at=MONDAY) is None


def changed(order_id: int) -> None:
    """Leave the history row that any action on a task leaves."""
    order = WorkOrder.objects.get(pk=order_id)
    task = task_of(order, "Polish the switch gear")
    HistoryEntry.objects.create(
        at=MONDAY,
        actor_name="x",
        verb="task.added",
        subject_kind="task",
        subject_id=task.pk,
        summary="Task added",
    )
