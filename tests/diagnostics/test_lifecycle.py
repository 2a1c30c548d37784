"""The life of a case: every move of the table, and every one that is not in it."""

import pytest

from diagnostics.lifecycle import (
    STATE_LABELS,
    TRANSITIONS,
    CaseEvent,
    CaseState,
    Origin,
    demand_taken,
    demand_unfinished,
    events_open_to,
    next_state,
)
from shop.domain.refusals import IllegalMove

LEGAL = sorted(TRANSITIONS)
ILLEGAL = sorted(
    (state, event)
    for state in CaseState
    for event in CaseEvent
    if (state, event) not in TRANSITIONS
)


@pytest.mark.parametrize(("state", "event"), LEGAL)
def test_a_legal_move_leads_where_the_table_says(
    state: CaseState, event: CaseEvent
) -> None:
    assert next_state(state, event, reason="As agreed.") is TRANSITIONS[state, event]


@pytest.mark.parametrize(("state", "event"), ILLEGAL)
def test_an_illegal_move_is_refused_with_what_mends_it(
    state: CaseState, event: CaseEvent
) -> None:
    with pytest.raises(IllegalMove) as refused:
        next_state(state, event, reason="As agreed.")
    assert refused.value.code == "illegal-move"
    assert refused.value.message.endswith(".")


@pytest.mark.parametrize(
    ("state", "event"),
    [
        (CaseState.OPEN, CaseEvent.GIVE_UP),
        (CaseState.REPAIRED, CaseEvent.REOPEN),
        (CaseState.PROVEN, CaseEvent.REOPEN),
    ],
)
def test_giving_up_and_reopening_want_a_reason(
    state: CaseState, event: CaseEvent
) -> None:
    with pytest.raises(IllegalMove) as refused:
        next_state(state, event, reason="   ")
    assert refused.value.field == "reason"


def test_a_case_cannot_be_proven_without_a_repair() -> None:
    with pytest.raises(IllegalMove, match="Record the repair first"):
        next_state(CaseState.OPEN, CaseEvent.PROVE)


def test_only_the_proof_is_taken_after_a_repair() -> None:
    demand_taken(CaseState.REPAIRED, Origin.RETEST)
    for origin in (Origin.COMPLAINT, Origin.ADVISED, Origin.FREE):
        with pytest.raises(IllegalMove, match="Take the failed tests again"):
            demand_taken(CaseState.REPAIRED, origin)


@pytest.mark.parametrize("state", [CaseState.PROVEN, CaseState.GIVEN_UP])
def test_a_finished_case_takes_nothing(state: CaseState) -> None:
    for origin in Origin:
        with pytest.raises(IllegalMove, match="Reopen it"):
            demand_taken(state, origin)
    with pytest.raises(IllegalMove, match="Reopen it"):
        demand_unfinished(state)


def test_every_state_is_reached_named_and_has_a_way_out() -> None:
    assert {CaseState.OPEN, *TRANSITIONS.values()} == set(CaseState)
    assert set(STATE_LABELS) == set(CaseState)
    assert all(events_open_to(state) for state in CaseState)
