"""The life of a plan, the order of the queue, and what is awaited without a date."""

from datetime import date
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from shop.domain.lifecycle import OPEN, State
from shop.domain.plans import (
    PLAN_MOVES,
    UNDER_WAY,
    Place,
    PlanEvent,
    PlanState,
    after_try,
    wait_until,
)

TODAY = date(2026, 11, 26)


def test_a_plan_under_way_always_comes_to_an_end_and_an_ended_one_stays() -> None:
    for state in PlanState:
        leads_on = any(old is state for old, _ in PLAN_MOVES)
        assert leads_on == (state in UNDER_WAY)


def test_a_plan_is_tried_again_and_put_aside_in_the_end() -> None:
    assert [after_try(tries) for tries in (1, 2, 3)] == [
        PlanEvent.PUT_BACK,
        PlanEvent.PUT_BACK,
        PlanEvent.PUT_ASIDE,
    ]


def test_agreed_work_goes_first_then_the_earliest_promise_then_the_number() -> None:
    places = [
        Place.of(State.ESTIMATING, date(2026, 11, 1), 1001),
        Place.of(State.ON_THE_BENCH, None, 1002),
        Place.of(State.WAITING, date(2026, 12, 24), 1003),
        Place.of(State.ON_THE_BENCH, date(2026, 12, 1), 1009),
        Place.of(State.ON_THE_BENCH, date(2026, 12, 1), 1004),
    ]
    assert [place.number for place in sorted(places)] == [1004, 1009, 1003, 1002, 1001]


def test_every_open_state_has_its_place() -> None:
    for state in OPEN:
        assert Place.of(state, None, 1).number == 1


@given(st.dates(date(2020, 1, 1), date(2035, 1, 1)))
def test_what_is_awaited_is_never_here_today_and_may_slip(expected_on: date) -> None:
    wait = wait_until(expected_on, first=TODAY)
    assert wait.optimistic >= 1
    assert wait.pessimistic >= wait.likely + 3
    assert wait.likely == max((expected_on - TODAY).days, 1)


def test_what_has_no_date_is_reckoned_as_a_fortnight_and_six_weeks_at_most() -> None:
    wait = wait_until(None, first=TODAY)
    assert (wait.likely, wait.pessimistic) == (Decimal(14), Decimal(42))
