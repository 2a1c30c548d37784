"""What was noticed is told, becomes a task, or is left as it is."""

from datetime import timedelta
from decimal import Decimal

import pytest

from shop.actions.advisories import (
    decline_advisory,
    make_advisory_a_task,
    note_advisory,
    tell_advisory,
)
from shop.actions.moves import move_work_order
from shop.domain.advisories import AdvisoryDetails
from shop.domain.lifecycle import Event
from shop.domain.refusals import ConcurrentChange, IllegalMove
from shop.domain.tasks import TaskDetails
from shop.models import Advisory, HistoryEntry, WorkOrder
from tests.builders import MORNING, FrontDeskFactory, UserFactory, WorkOrderFactory

pytestmark = pytest.mark.django_db
LATER = MORNING + timedelta(days=1)
HOURS = TaskDetails(
    operation="Respoke the rear wheel",
    optimistic_hours=Decimal(2),
    likely_hours=Decimal(3),
    pessimistic_hours=Decimal(6),
)


def note(order: WorkOrder, urgency: str = "unsafe") -> Advisory:
    return note_advisory(
        work_order_id=order.pk,
        details=AdvisoryDetails(
            what="Two spokes cracked", place="Rear wheel", urgency=urgency
        ),
        acting_user=UserFactory(),
        at=MORNING,
    )


def hand_over(order: WorkOrder) -> None:
    move_work_order(
        work_order_id=order.pk,
        event=Event.HAND_OVER,
        acting_user=FrontDeskFactory(),
        at=LATER,
    )


def test_no_unsafe_bike_is_handed_over_before_the_customer_knows() -> None:
    order = WorkOrderFactory(state="ready")
    advisory = note(order)
    with pytest.raises(IllegalMove, match="Two spokes cracked"):
        hand_over(order)
    desk = FrontDeskFactory()
    tell_advisory(advisory_id=advisory.pk, how="phone", acting_user=desk, at=LATER)
    hand_over(order)


def test_what_can_wait_does_not_stand_in_the_way() -> None:
    order = WorkOrderFactory(state="ready")
    note(order, "watch")
    hand_over(order)


def test_an_advisory_becomes_one_task() -> None:
    order, mo = WorkOrderFactory(state="on_the_bench"), UserFactory()
    advisory = note(order)
    task = make_advisory_a_task(
        advisory_id=advisory.pk, details=HOURS, acting_user=mo, at=LATER
    )
    advisory.refresh_from_db()
    assert (advisory.task, advisory.outcome) == (task, "task")
    with pytest.raises(ConcurrentChange, match="became a task"):
        make_advisory_a_task(
            advisory_id=advisory.pk, details=HOURS, acting_user=mo, at=LATER
        )
    assert order.tasks.count() == 1


def test_only_what_was_told_can_be_declined() -> None:
    advisory, desk = note(WorkOrderFactory(state="on_the_bench")), FrontDeskFactory()
    with pytest.raises(IllegalMove, match="Tell the customer first"):
        decline_advisory(
            advisory_id=advisory.pk, reason="later", acting_user=desk, at=LATER
        )
    tell_advisory(advisory_id=advisory.pk, how="phone", acting_user=desk, at=LATER)
    decline_advisory(
        advisory_id=advisory.pk, reason="next winter", acting_user=desk, at=LATER
    )
    told = HistoryEntry.objects.of_subject("advisory", advisory.pk).order_by("pk")
    assert [entry.verb for entry in told] == [
        "advisory.noticed",
        "advisory.told",
        "advisory.declined",
    ]


def test_the_customer_is_told_once() -> None:
    advisory, desk = note(WorkOrderFactory(state="on_the_bench")), FrontDeskFactory()
    tell_advisory(advisory_id=advisory.pk, how="phone", acting_user=desk, at=LATER)
    with pytest.raises(IllegalMove, match="told already"):
        tell_advisory(advisory_id=advisory.pk, how="mail", acting_user=desk, at=LATER)
