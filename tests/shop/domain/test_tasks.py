"""Hours in order, moves by the table, no circles."""

import itertools
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.domain.lifecycle import State
from shop.domain.refusals import IllegalMove, Refusal
from shop.domain.tasks import (
    TASK_MOVES,
    TaskDetails,
    TaskEvent,
    TaskFacts,
    TaskState,
    check_no_cycle,
    expected_hours,
    find_cycle,
    next_task_state,
)

ON_BENCH = TaskFacts(
    order_state=State.ON_THE_BENCH, reason="customer changed their mind"
)


def details(**said: object) -> TaskDetails:
    given = {
        "operation": "Lace the rear wheel",
        "optimistic_hours": Decimal(2),
        "likely_hours": Decimal(3),
        "pessimistic_hours": Decimal(6),
    }
    return TaskDetails(**{**given, **said})  # type: ignore[arg-type]  # said by the test


def test_every_pair_of_state_and_event_is_either_in_the_table_or_refused() -> None:
    for state in TaskState:
        for event in TaskEvent:
            target = TASK_MOVES.get((state, event))
            if target is None:
                with pytest.raises(IllegalMove, match="Possible now"):
                    next_task_state(state, event, ON_BENCH)
            else:
                assert next_task_state(state, event, ON_BENCH) is target


def test_a_task_starts_only_while_the_bike_is_on_the_bench() -> None:
    facts = TaskFacts(order_state=State.WAITING)
    with pytest.raises(IllegalMove, match="waiting"):
        next_task_state(TaskState.PLANNED, TaskEvent.START, facts)


def test_a_task_that_waits_for_another_says_for_which() -> None:
    facts = TaskFacts(order_state=State.ON_THE_BENCH, waits_for=("Strip the engine",))
    with pytest.raises(IllegalMove, match="Strip the engine"):
        next_task_state(TaskState.PLANNED, TaskEvent.START, facts)


def test_a_held_task_says_what_holds_it() -> None:
    facts = TaskFacts(order_state=State.ON_THE_BENCH, held_by=("spokes",))
    with pytest.raises(IllegalMove, match="spokes"):
        next_task_state(TaskState.PLANNED, TaskEvent.START, facts)


def test_dropping_a_task_wants_a_reason() -> None:
    facts = TaskFacts(order_state=State.ON_THE_BENCH)
    with pytest.raises(IllegalMove, match="Say why") as refused:
        next_task_state(TaskState.PLANNED, TaskEvent.DROP, facts)
    assert refused.value.field == "reason"


@pytest.mark.parametrize(
    ("said", "field"),
    [
        ({"likely_hours": Decimal(1)}, "likely_hours"),
        ({"pessimistic_hours": Decimal("2.5")}, "pessimistic_hours"),
        ({"optimistic_hours": Decimal(-1)}, "optimistic_hours"),
        ({"optimistic_hours": Decimal("NaN")}, "optimistic_hours"),
        ({"likely_hours": Decimal("2.555")}, "likely_hours"),
        ({"pessimistic_hours": Decimal(10_000)}, "pessimistic_hours"),
        ({"operation": " "}, "operation"),
        ({"labour_kind": "juggling"}, "labour_kind"),
    ],
)
def test_details_that_make_no_sense_are_refused_at_their_field(
    said: dict[str, object], field: str
) -> None:
    with pytest.raises(Refusal) as refused:
        details(**said).checked()
    assert refused.value.field == field


def test_the_expected_hours_weigh_the_likely_ones_four_times() -> None:
    # (a + 4 m + b) / 6, the three-point mean of the PERT method
    assert expected_hours(Decimal(2), Decimal(3), Decimal(10)) == Decimal(4)


@given(
    st.dictionaries(
        st.integers(0, 12), st.lists(st.integers(0, 12), max_size=4), max_size=12
    )
)
def test_a_circle_is_found_exactly_where_no_order_of_work_exists(
    needs: dict[int, list[int]],
) -> None:
    circle = find_cycle(needs)
    if circle:
        assert circle[0] == circle[-1]
        assert all(b in needs[a] for a, b in itertools.pairwise(circle))
        return
    left = set(needs) | {n for rest in needs.values() for n in rest}
    while left:
        free = {n for n in left if not set(needs.get(n, ())) & left}
        assert free
        left -= free


def test_a_circle_is_told_by_the_operations_in_it() -> None:
    with pytest.raises(Refusal, match="Strip → Plate → Strip"):
        check_no_cycle({1: [2], 2: [1]}, {1: "Strip", 2: "Plate"})
