"""A work order is moved along its life, and by one person at a time."""

from collections.abc import Iterator, Sequence
from datetime import timedelta
from decimal import Decimal

import pytest

from shop.actions.moves import move_work_order
from shop.domain.lifecycle import ENDED, MOVES, NEEDS_REASON, Event, State
from shop.domain.refusals import (
    ConcurrentChange,
    IllegalMove,
    NotAllowed,
    NotFound,
    Refusal,
)
from shop.domain.roles import Role
from shop.domain.work_orders import Particulars
from shop.models import HistoryEntry, WorkOrder
from shop.seams import registry
from tests.builders import (
    MORNING,
    FrontDeskFactory,
    OwnerFactory,
    UserFactory,
    WorkOrderFactory,
)
from tests.shop.final_check import pass_final_check

pytestmark = pytest.mark.django_db
LATER = MORNING + timedelta(hours=3)
WHOLE = Particulars(
    reason="the customer rang",
    estimate_amount=Decimal("310.00"),
    approved_amount=Decimal("310.00"),
    approved_by_name="Ada Fenn",
)


@pytest.fixture
def blocker() -> Iterator[list[str]]:
    """Return a list of reasons that stand in the way, empty at first."""
    reasons: list[str] = []

    def reasons_against(*, work_order_id: int) -> Sequence[str]:
        return reasons

    registry.register_blockers("test-blocker", reasons_against)
    yield reasons
    registry.unregister("test-blocker")


@pytest.mark.parametrize(("state", "event"), list(MOVES))
def test_every_move_of_the_table_is_made_and_told(state: State, event: Event) -> None:
    order = WorkOrderFactory(state=state.value)
    owner = OwnerFactory()
    new = move_work_order(
        work_order_id=order.pk,
        event=event,
        particulars=WHOLE,
        acting_user=owner,
        at=LATER,
    )
    order.refresh_from_db()
    assert new is MOVES[(state, event)]
    assert (order.state, order.state_since) == (new.value, LATER)
    assert (order.ended_at is not None) == (new in ENDED)
    entry = HistoryEntry.objects.of_subject("work_order", order.pk).get()
    assert (entry.old_state, entry.new_state) == (state.value, new.value)
    assert (entry.actor, entry.at) == (owner, LATER)


@pytest.mark.parametrize("state", list(State))
def test_an_illegal_move_changes_nothing(state: State) -> None:
    order, owner = WorkOrderFactory(state=state.value), OwnerFactory()
    for event in Event:
        if (state, event) in MOVES:
            continue
        with pytest.raises(IllegalMove):
            move_work_order(
                work_order_id=order.pk,
                event=event,
                particulars=WHOLE,
                acting_user=owner,
                at=LATER,
            )
    order.refresh_from_db()
    assert (order.state, order.state_since) == (state.value, MORNING)
    assert not HistoryEntry.objects.exists()


def test_a_whole_life_from_the_counter_to_the_road() -> None:
    order = WorkOrderFactory()
    desk, mo = FrontDeskFactory(), UserFactory()
    steps = [
        (Event.START_ESTIMATE, mo, Particulars()),
        (Event.SEND_ESTIMATE, mo, Particulars(estimate_amount=Decimal("240.00"))),
        (Event.APPROVE, desk, Particulars(approved_by_name="Ada Fenn")),
        (Event.WAIT, mo, Particulars(reason="a brush from the supplier")),
        (Event.RESUME, mo, Particulars()),
        (Event.FINISH_WORK, mo, Particulars()),
        (Event.FAIL_CHECK, mo, Particulars(reason="dip beam flickers")),
        (Event.FINISH_WORK, mo, Particulars()),
        (Event.SIGN_OFF, mo, Particulars()),
        (Event.HAND_OVER, desk, Particulars()),
    ]
    for number, (event, person, particulars) in enumerate(steps):
        if event is Event.SIGN_OFF:
            pass_final_check(order)
        move_work_order(
            work_order_id=order.pk,
            event=event,
            particulars=particulars,
            acting_user=person,
            at=MORNING + timedelta(days=number),
        )
    order.refresh_from_db()
    assert order.state == State.CLOSED
    # What the estimate said is what was approved, as nobody said otherwise.
    assert order.approved_amount == order.estimate_amount == Decimal(240)
    moves = HistoryEntry.objects.of_subject("work_order", order.pk)
    told = [e.summary for e in moves.order_by("at")]
    assert told[1] == "Estimate sent: 240.00 EUR"
    assert told[2] == "Approval recorded: 240.00 EUR"


def test_what_is_waited_for_is_shown_only_while_it_is_waited_for() -> None:
    order, mo = WorkOrderFactory(state="on_the_bench"), UserFactory()
    move_work_order(
        work_order_id=order.pk,
        event=Event.WAIT,
        particulars=Particulars(reason="a rotor"),
        acting_user=mo,
        at=LATER,
    )
    order.refresh_from_db()
    assert order.waiting_for == "a rotor"
    move_work_order(
        work_order_id=order.pk, event=Event.RESUME, acting_user=mo, at=LATER
    )
    order.refresh_from_db()
    assert order.waiting_for == ""


def test_whoever_starts_the_work_is_on_the_work_order() -> None:
    order = WorkOrderFactory(approved_amount=Decimal(90), approved_by_name="Ada Fenn")
    mo = UserFactory()
    move_work_order(
        work_order_id=order.pk, event=Event.START_WORK, acting_user=mo, at=LATER
    )
    order.refresh_from_db()
    assert order.technician == mo


@pytest.mark.parametrize("event", sorted(NEEDS_REASON))
def test_a_step_back_without_a_reason_is_refused_at_its_field(event: Event) -> None:
    state = next(old for old, known in MOVES if known is event)
    order = WorkOrderFactory(state=state.value)
    with pytest.raises(IllegalMove) as refused:
        move_work_order(
            work_order_id=order.pk, event=event, acting_user=OwnerFactory(), at=LATER
        )
    assert refused.value.field == "reason"


def test_an_open_case_keeps_the_bike_in_the_shop(blocker: list[str]) -> None:
    order, mo = WorkOrderFactory(state="final_check"), UserFactory()
    blocker.append("The case “Lights fade” is open; prove the repair first.")
    with pytest.raises(IllegalMove, match="prove the repair"):
        move_work_order(
            work_order_id=order.pk, event=Event.SIGN_OFF, acting_user=mo, at=LATER
        )
    blocker.clear()
    assert (
        move_work_order(
            work_order_id=order.pk, event=Event.SIGN_OFF, acting_user=mo, at=LATER
        )
        is State.READY
    )


def test_a_move_from_a_state_that_is_no_longer_true_does_nothing() -> None:
    order, mo = WorkOrderFactory(state="on_the_bench"), UserFactory()
    with pytest.raises(ConcurrentChange):
        move_work_order(
            work_order_id=order.pk,
            event=Event.FINISH_WORK,
            seen_state=State.WAITING,
            acting_user=mo,
            at=LATER,
        )
    order.refresh_from_db()
    assert order.state == State.ON_THE_BENCH


def test_a_state_that_changes_between_reading_and_writing_wins() -> None:
    # Somebody else's move lands exactly while the guards are asked: the
    # conditional update then finds no row in the old state.
    order = WorkOrderFactory(state="final_check")

    def fails_the_check_meanwhile(*, work_order_id: int) -> Sequence[str]:
        WorkOrder.objects.filter(pk=work_order_id).update(state="on_the_bench")
        return ()

    registry.register_blockers("meanwhile", fails_the_check_meanwhile)
    try:
        with pytest.raises(ConcurrentChange) as refused:
            move_work_order(
                work_order_id=order.pk,
                event=Event.SIGN_OFF,
                acting_user=UserFactory(),
                at=LATER,
            )
    finally:
        registry.unregister("meanwhile")
    assert refused.value.code == "moved-already"
    assert not HistoryEntry.objects.exists()


@pytest.mark.parametrize(
    ("event", "state", "role"),
    [
        (Event.APPROVE, "awaiting_approval", Role.TECHNICIAN),
        (Event.HAND_OVER, "ready", Role.TECHNICIAN),
        (Event.CALL_OFF, "booked_in", Role.STOREKEEPER),
        (Event.SIGN_OFF, "final_check", Role.FRONT_DESK),
        (Event.RESUME, "waiting", Role.FRONT_DESK),
    ],
)
def test_a_move_that_the_role_does_not_include_is_refused(
    event: Event, state: str, role: Role
) -> None:
    order = WorkOrderFactory(state=state, estimate_amount=Decimal(10))
    with pytest.raises(NotAllowed):
        move_work_order(
            work_order_id=order.pk,
            event=event,
            particulars=WHOLE,
            acting_user=UserFactory(role=role.value),
            at=LATER,
        )


def test_a_technician_cannot_agree_for_the_customer_by_starting_work() -> None:
    with pytest.raises(NotAllowed):
        move_work_order(
            work_order_id=WorkOrderFactory().pk,
            event=Event.START_WORK,
            particulars=WHOLE,
            acting_user=UserFactory(),
            at=LATER,
        )


def test_an_unknown_work_order_goes_nowhere() -> None:
    with pytest.raises(NotFound):
        move_work_order(
            work_order_id=404,
            event=Event.RESUME,
            acting_user=UserFactory(),
            at=LATER,
        )


def test_an_estimate_that_is_no_money_is_refused() -> None:
    order = WorkOrderFactory(state="estimating")
    with pytest.raises(Refusal) as refused:
        move_work_order(
            work_order_id=order.pk,
            event=Event.SEND_ESTIMATE,
            particulars=Particulars(estimate_amount=Decimal("10.001")),
            acting_user=UserFactory(),
            at=LATER,
        )
    assert refused.value.field == "estimate_amount"
