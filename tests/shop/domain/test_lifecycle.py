"""The life of a work order: every move that is not in the table is refused."""

from decimal import Decimal
from itertools import product

import pytest

from shop.domain.lifecycle import (
    ENDED,
    EVENT_ACTS,
    EVENT_DONE,
    EVENT_LABELS,
    MOVES,
    NEEDS_REASON,
    OPEN,
    STATE_LABELS,
    Event,
    Facts,
    State,
    moves_from,
    next_state,
)
from shop.domain.refusals import IllegalMove

WHOLE = Facts(
    reason="the customer rang",
    estimate_amount=Decimal(300),
    approved_amount=Decimal(300),
    approved_by_name="Ada Fenn",
)
ILLEGAL = [pair for pair in product(State, Event) if pair not in MOVES]


@pytest.mark.parametrize(("state", "event"), ILLEGAL)
def test_a_move_outside_the_table_is_refused(state: State, event: Event) -> None:
    with pytest.raises(IllegalMove) as refused:
        next_state(state, event, WHOLE)
    assert refused.value.code == "illegal-move"
    assert EVENT_LABELS[event] in refused.value.message


@pytest.mark.parametrize(("state", "event"), list(MOVES))
def test_a_move_of_the_table_leads_where_it_says(state: State, event: Event) -> None:
    assert next_state(state, event, WHOLE) is MOVES[(state, event)]


@pytest.mark.parametrize(
    ("state", "event"), [pair for pair in MOVES if pair[1] in NEEDS_REASON]
)
def test_a_step_back_needs_a_reason(state: State, event: Event) -> None:
    facts = Facts(
        reason="  ", approved_amount=Decimal(1), approved_by_name="A", blockers=()
    )
    with pytest.raises(IllegalMove) as refused:
        next_state(state, event, facts)
    assert (refused.value.code, refused.value.field) == ("reason-missing", "reason")


@pytest.mark.parametrize("state", [State.FINAL_CHECK, State.READY])
def test_an_open_case_stands_in_the_way_of_ready_and_of_handing_over(
    state: State,
) -> None:
    event = Event.SIGN_OFF if state is State.FINAL_CHECK else Event.HAND_OVER
    facts = Facts(blockers=("The case “Lights fade” is still open.",))
    with pytest.raises(IllegalMove, match="still open") as refused:
        next_state(state, event, facts)
    assert refused.value.code == "still-open"


def test_an_estimate_without_a_figure_does_not_go_out() -> None:
    with pytest.raises(IllegalMove) as refused:
        next_state(State.ESTIMATING, Event.SEND_ESTIMATE, Facts())
    assert refused.value.field == "estimate_amount"


@pytest.mark.parametrize(
    ("facts", "field"),
    [
        (Facts(), "approved_amount"),
        (Facts(approved_amount=Decimal(80)), "approved_by_name"),
    ],
)
def test_no_work_starts_before_somebody_agreed(facts: Facts, field: str) -> None:
    with pytest.raises(IllegalMove) as refused:
        next_state(State.BOOKED_IN, Event.START_WORK, facts)
    assert refused.value.field == field


def test_an_ended_work_order_goes_nowhere() -> None:
    assert {state for state in State if not moves_from(state)} == ENDED
    assert set(State) == OPEN | ENDED


def test_every_open_state_can_be_reached_and_left_to_an_end() -> None:
    reached = {State.BOOKED_IN}
    for _ in State:
        reached |= {new for (old, _), new in MOVES.items() if old in reached}
    assert reached == set(State)
    ending = set(ENDED)
    for _ in State:
        ending |= {old for (old, _), new in MOVES.items() if new in ending}
    assert ending == set(State)


def test_every_state_and_event_has_its_words_and_its_act() -> None:
    assert set(STATE_LABELS) == set(State)
    assert set(EVENT_LABELS) == set(EVENT_DONE) == set(EVENT_ACTS) == set(Event)
