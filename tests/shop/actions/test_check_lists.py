"""The final check: laid out, ticked by somebody, begun anew when the bike goes back."""

from datetime import timedelta

import pytest

from shop.actions.check_lists import (
    add_check_point,
    answer_check,
    edit_check_point,
    retire_check_point,
)
from shop.actions.moves import move_work_order
from shop.domain.check_lists import Answer
from shop.domain.lifecycle import Event
from shop.domain.refusals import ConcurrentChange, IllegalMove, NotAllowed
from shop.domain.work_orders import Particulars
from shop.models import CheckItem, CheckPoint, HistoryEntry, User, WorkOrder
from tests.builders import MORNING, OwnerFactory, UserFactory, WorkOrderFactory
from tests.shop.final_check import pass_final_check

pytestmark = pytest.mark.django_db
LATER = MORNING + timedelta(days=1)


@pytest.fixture
def owner() -> User:
    CheckPoint.objects.all().delete()
    owner = OwnerFactory()
    for text in ("Brakes bite", "Lamps and horn"):
        add_check_point(text=text, acting_user=owner, at=MORNING)
    return owner


def go(order: WorkOrder, event: Event, by: User, reason: str = "") -> None:
    move_work_order(
        work_order_id=order.pk,
        event=event,
        particulars=Particulars(reason=reason),
        acting_user=by,
        at=LATER,
    )


def test_a_bike_is_ready_only_when_every_point_is_ticked(owner: User) -> None:
    order = WorkOrderFactory(state="on_the_bench")
    go(order, Event.FINISH_WORK, owner)
    with pytest.raises(IllegalMove, match="2 points of 2"):
        go(order, Event.SIGN_OFF, owner)
    pass_final_check(order)
    go(order, Event.SIGN_OFF, owner)
    order.refresh_from_db()
    assert order.state == "ready"


def test_a_tick_keeps_by_whom_and_when(owner: User) -> None:
    order, mo = WorkOrderFactory(state="on_the_bench"), UserFactory()
    go(order, Event.FINISH_WORK, owner)
    item = CheckItem.objects.standing_on(order.pk)[0]
    answer_check(item_id=item.pk, answer=Answer.RIGHT, acting_user=mo, at=LATER)
    item.refresh_from_db()
    assert (item.answered_by, item.answered_at) == (mo, LATER)
    entry = HistoryEntry.objects.of_subject("check_item", item.pk).get()
    assert entry.summary == "Final check, Brakes bite: in order"


def test_a_point_that_is_not_right_keeps_the_bike(owner: User) -> None:
    order = WorkOrderFactory(state="on_the_bench")
    go(order, Event.FINISH_WORK, owner)
    pass_final_check(order)
    item = CheckItem.objects.standing_on(order.pk)[1]
    answer_check(
        item_id=item.pk,
        answer=Answer.NOT_RIGHT,
        note="horn silent",
        acting_user=owner,
        at=LATER,
    )
    with pytest.raises(IllegalMove, match="not right"):
        go(order, Event.SIGN_OFF, owner)


def test_a_bike_sent_back_is_looked_at_anew(owner: User) -> None:
    order = WorkOrderFactory(state="on_the_bench")
    go(order, Event.FINISH_WORK, owner)
    pass_final_check(order)
    go(order, Event.FAIL_CHECK, owner, "horn silent")
    go(order, Event.FINISH_WORK, owner)
    answers = CheckItem.objects.standing_on(order.pk).values_list("answer", flat=True)
    assert list(answers) == ["open", "open"]
    assert [row.number for row in order.check_lists.order_by("number")] == [1, 2]


def test_points_are_ticked_in_the_final_check_alone(owner: User) -> None:
    order = WorkOrderFactory(state="on_the_bench")
    go(order, Event.FINISH_WORK, owner)
    item = CheckItem.objects.standing_on(order.pk)[0]
    go(order, Event.FAIL_CHECK, owner, "horn silent")
    with pytest.raises(IllegalMove, match="final check"):
        answer_check(item_id=item.pk, answer=Answer.RIGHT, acting_user=owner, at=LATER)


def test_two_who_answer_one_point_are_told_apart(owner: User) -> None:
    order = WorkOrderFactory(state="on_the_bench")
    go(order, Event.FINISH_WORK, owner)
    item = CheckItem.objects.standing_on(order.pk)[0]
    answer_check(item_id=item.pk, answer=Answer.RIGHT, acting_user=owner, at=LATER)
    with pytest.raises(ConcurrentChange):
        answer_check(
            item_id=item.pk,
            answer=Answer.NOT_FITTED,
            seen_answer=Answer.OPEN,
            acting_user=UserFactory(),
            at=LATER,
        )


def test_a_round_keeps_its_words_when_the_list_changes(owner: User) -> None:
    order = WorkOrderFactory(state="on_the_bench")
    go(order, Event.FINISH_WORK, owner)
    first, second = CheckPoint.objects.in_use()
    edit_check_point(
        point_id=first.pk, text="Brakes", caution="", acting_user=owner, at=LATER
    )
    retire_check_point(point_id=second.pk, acting_user=owner, at=LATER)
    texts = CheckItem.objects.standing_on(order.pk).values_list("text", flat=True)
    assert list(texts) == ["Brakes bite", "Lamps and horn"]
    assert [point.text for point in CheckPoint.objects.in_use()] == ["Brakes"]


def test_the_list_is_the_owners(owner: User) -> None:
    with pytest.raises(NotAllowed):
        add_check_point(text="Mirrors", acting_user=UserFactory(), at=LATER)
