import pytest

from shop.domain.lifecycle import OPEN, State
from shop.domain.roles import Role
from shop.web.today import MOST_CARDS, NEXT
from tests.builders import UserFactory, WorkOrderFactory
from tests.shop.web.pages import as_role, signed_in, url, words

pytestmark = pytest.mark.django_db


def test_every_open_state_waits_for_somebody() -> None:
    assert set(NEXT) == set(OPEN)
    assert all(step.roles for step in NEXT.values())


def test_an_empty_shop_says_what_to_do_next() -> None:
    page = words(as_role(Role.FRONT_DESK).get(url("today")))
    assert "An empty bench" in page
    assert "Book in a bike" in page


def test_the_desk_is_shown_what_waits_for_the_customer() -> None:
    WorkOrderFactory.create(number=3001, state=State.AWAITING_APPROVAL)
    WorkOrderFactory.create(number=3002, state=State.ON_THE_BENCH)
    answer = as_role(Role.FRONT_DESK).get(url("today"))
    assert [card.row.label for card in answer.context["mine"]] == ["WO-3001"]
    assert [row.label for row in answer.context["others"]] == ["WO-3002"]


def test_a_technician_is_shown_own_work_and_what_nobody_has_taken() -> None:
    me = UserFactory.create()
    WorkOrderFactory.create(number=1, state=State.ON_THE_BENCH, technician=me)
    WorkOrderFactory.create(number=2, state=State.BOOKED_IN)
    WorkOrderFactory.create(
        number=3, state=State.ON_THE_BENCH, technician=UserFactory.create()
    )
    answer = signed_in(me).get(url("today"))
    mine = {card.row.number for card in answer.context["mine"]}
    assert mine == {1, 2}


def test_the_storekeeper_is_shown_what_waits_for_a_part() -> None:
    someone = UserFactory.create()
    WorkOrderFactory.create(
        state=State.WAITING, waiting_for="a regulator", technician=someone
    )
    page = words(as_role(Role.STOREKEEPER).get(url("today")))
    assert "Waiting: a regulator" in page


def test_what_does_not_fit_is_counted() -> None:
    WorkOrderFactory.create_batch(MOST_CARDS + 3, state=State.READY)
    assert "And 3 more:" in words(as_role(Role.FRONT_DESK).get(url("today")))
