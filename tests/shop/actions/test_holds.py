"""What is waited for stands on the ticket until somebody releases it."""

from datetime import timedelta

import pytest

from shop.actions.holds import place_hold, release_hold
from shop.actions.moves import move_work_order
from shop.actions.tasks import move_task
from shop.domain.holds import HoldDetails
from shop.domain.lifecycle import Event, State
from shop.domain.refusals import IllegalMove, NotAllowed, Refusal
from shop.domain.tasks import TaskEvent
from shop.domain.work_orders import Particulars
from shop.models import HistoryEntry, Hold, User, WorkOrder
from tests.builders import (
    MORNING,
    FrontDeskFactory,
    StorekeeperFactory,
    TaskFactory,
    UserFactory,
    WorkOrderFactory,
)

pytestmark = pytest.mark.django_db
LATER = MORNING + timedelta(days=1)


def hold(
    order: WorkOrder, by: User, kind: str = "parts", detail: str = "a rotor"
) -> Hold:
    return place_hold(
        work_order_id=order.pk,
        details=HoldDetails(kind=kind, detail=detail),
        acting_user=by,
        at=MORNING,
    )


def test_holding_the_whole_bike_makes_the_work_order_wait() -> None:
    order, mo = WorkOrderFactory(state="on_the_bench"), UserFactory()
    hold(order, mo)
    hold(order, mo, "outside_work", "the tank from the painter")
    order.refresh_from_db()
    assert order.state == State.WAITING
    assert order.waiting_for == "a rotor; the tank from the painter"


def test_a_release_leaves_what_else_is_waited_for() -> None:
    order, mo = WorkOrderFactory(state="on_the_bench"), UserFactory()
    rotor = hold(order, mo)
    hold(order, mo, "outside_work", "the tank from the painter")
    store = StorekeeperFactory()
    release_hold(hold_id=rotor.pk, note="came by post", acting_user=store, at=LATER)
    order.refresh_from_db()
    assert (order.state, order.waiting_for) == (
        State.WAITING,
        "the tank from the painter",
    )
    rotor.refresh_from_db()
    assert (rotor.released_by, rotor.released_at) == (store, LATER)
    told = HistoryEntry.objects.of_subject("hold", rotor.pk).order_by("pk")
    assert [entry.verb for entry in told] == ["hold.placed", "hold.released"]


def test_taking_the_work_up_again_releases_what_held_it() -> None:
    order, mo = WorkOrderFactory(state="on_the_bench"), UserFactory()
    hold(order, mo)
    move_work_order(
        work_order_id=order.pk, event=Event.RESUME, acting_user=mo, at=LATER
    )
    assert not Hold.objects.standing().exists()


def test_the_bench_does_not_release_what_waits_for_an_approval() -> None:
    order, mo = WorkOrderFactory(state="on_the_bench"), UserFactory()
    waits = hold(order, mo, "approval", "the dearer rims")
    with pytest.raises(NotAllowed):
        move_work_order(
            work_order_id=order.pk, event=Event.RESUME, acting_user=mo, at=LATER
        )
    order.refresh_from_db()
    assert order.state == State.WAITING
    release_hold(hold_id=waits.pk, acting_user=FrontDeskFactory(), at=LATER)
    move_work_order(
        work_order_id=order.pk, event=Event.RESUME, acting_user=mo, at=LATER
    )


def test_a_hold_is_released_once() -> None:
    order, mo = WorkOrderFactory(state="on_the_bench"), UserFactory()
    rotor = hold(order, mo)
    release_hold(hold_id=rotor.pk, acting_user=mo, at=LATER)
    with pytest.raises(IllegalMove, match="released already"):
        release_hold(hold_id=rotor.pk, acting_user=mo, at=LATER)


def test_a_held_task_does_not_start_while_the_others_go_on() -> None:
    order, mo = WorkOrderFactory(state="on_the_bench"), UserFactory()
    lacing, tank = (TaskFactory(work_order=order, state="planned") for _ in range(2))
    place_hold(
        work_order_id=order.pk,
        details=HoldDetails(kind="parts", detail="spokes", task_id=lacing.pk),
        acting_user=mo,
        at=MORNING,
    )
    with pytest.raises(IllegalMove, match="spokes"):
        move_task(task_id=lacing.pk, event=TaskEvent.START, acting_user=mo, at=LATER)
    move_task(task_id=tank.pk, event=TaskEvent.START, acting_user=mo, at=LATER)
    order.refresh_from_db()
    assert order.state == State.ON_THE_BENCH


def test_a_bike_that_nobody_works_on_cannot_be_held_up() -> None:
    order = WorkOrderFactory(state="booked_in")
    with pytest.raises(IllegalMove, match="booked in"):
        hold(order, UserFactory())


def test_a_hold_says_what_is_waited_for() -> None:
    order = WorkOrderFactory(state="on_the_bench")
    with pytest.raises(Refusal) as refused:
        hold(order, UserFactory(), detail=" ")
    assert refused.value.field == "detail"
    assert not Hold.objects.exists()


def test_nothing_stays_held_when_the_work_order_ends() -> None:
    order, mo = WorkOrderFactory(state="on_the_bench"), UserFactory()
    hold(order, mo)
    move_work_order(
        work_order_id=order.pk,
        event=Event.CALL_OFF,
        particulars=Particulars(reason="sold"),
        acting_user=FrontDeskFactory(),
        at=LATER,
    )
    order.refresh_from_db()
    assert order.waiting_for == ""
    assert not Hold.objects.standing().exists()
