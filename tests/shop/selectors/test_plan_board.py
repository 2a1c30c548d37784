"""The board as it is read: a word for every week."""

from datetime import date, timedelta

import pytest

from shop.models import Absence
from shop.selectors.plan_board import plan_board
from tests.builders import MORNING, FrontDeskFactory, UserFactory
from tests.shop.plan_room import FIRST, MONDAY, rewire, worked_out

pytestmark = pytest.mark.django_db


def test_each_week_of_each_bench_has_its_word() -> None:
    ada, ben = UserFactory(first_name="Ada"), UserFactory(first_name="Ben")
    for promised_on in (date(2026, 3, 6), date(2026, 3, 6), None):
        rewire(technician=ada, promised_on=promised_on)
    Absence.objects.create(
        technician=ada,
        first_on=FIRST + timedelta(days=7),
        last_on=FIRST + timedelta(days=13),
        entered_by=ada,
        created_at=MORNING,
    )
    worked_out()
    board = plan_board(viewer=FrontDeskFactory().as_viewer(), at=MONDAY)
    words = {
        bench.technician_id: [cell.load for cell in bench.cells]
        for bench in board.benches
    }
    # Twice 23.5 hours are promised by Friday; a week has 30, the next none.
    assert words[ada.pk][:2] == ["over", "away"]
    assert set(words[ben.pk]) == {"free"}
    assert board.mondays[0] == FIRST
    assert [row.monday for row in board.weeks] == list(board.mondays)
    first = board.benches[0].cells[0]
    assert first.minutes_over == (47 - 30) * 60
    assert sum(laid.minutes for laid in first.orders) == first.minutes_planned
    assert [row.position for row in board.promises] == [1, 2, 3]


def test_without_a_plan_the_board_is_empty_and_says_who_may_ask() -> None:
    board = plan_board(viewer=FrontDeskFactory().as_viewer(), at=MONDAY)
    assert (board.benches, board.promises, board.weeks) == ((), (), ())
    assert board.standing.may_request
