"""Outside work: its moves, its price, and when it is late."""

from datetime import date
from decimal import Decimal
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.domain.outside_work import (
    OUTSIDE_MOVES,
    OutsideDetails,
    OutsideEvent,
    OutsideState,
    TagCheck,
    is_overdue,
    next_outside_state,
    outside_net,
)
from shop.domain.refusals import IllegalMove, Refusal

MONEY = st.decimals(min_value=0, max_value=100_000, places=2)
ILLEGAL = [p for p in product(OutsideState, OutsideEvent) if p not in OUTSIDE_MOVES]


@pytest.mark.parametrize(("state", "event"), ILLEGAL)
def test_a_move_outside_the_table_is_refused(
    state: OutsideState, event: OutsideEvent
) -> None:
    with pytest.raises(IllegalMove):
        next_outside_state(state, event)


@pytest.mark.parametrize(
    ("quote", "cost", "markup", "net"),
    [
        # calc: 86.50 x 1.15 = 99.475, half up.
        ("80.00", "86.50", "15", "99.48"),
        ("80.00", None, "15", "92.00"),
        (None, None, "15", "0.00"),
        ("80.00", "0.00", "0", "0.00"),
    ],
)
def test_the_bill_counts_before_the_quote_and_the_mark_up_is_on_it(
    quote: str | None, cost: str | None, markup: str, net: str
) -> None:
    assert outside_net(
        quote=Decimal(quote) if quote else None,
        cost=Decimal(cost) if cost else None,
        markup_percent=Decimal(markup),
    ) == Decimal(net)


@given(cost=MONEY, markup=st.decimals(min_value=0, max_value=500, places=2))
def test_the_customer_never_pays_less_than_the_shop(
    cost: Decimal, markup: Decimal
) -> None:
    assert outside_net(quote=None, cost=cost, markup_percent=markup) >= cost


@pytest.mark.parametrize("state", list(OutsideState))
def test_only_what_is_away_past_its_day_is_late(state: OutsideState) -> None:
    today = date(2026, 3, 2)
    assert is_overdue(state, date(2026, 3, 1), today=today) == (
        state is OutsideState.AWAY
    )
    assert not is_overdue(state, today, today=today)
    assert not is_overdue(state, None, today=today)


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"trade": "alchemy"}, "trade"),
        ({"description": " "}, "description"),
        ({"quote_amount": Decimal(-1)}, "quote_amount"),
        ({"cost_amount": Decimal("1.005")}, "cost_amount"),
        ({"markup_percent": Decimal("NaN")}, "markup_percent"),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(
    wrong: dict[str, object], field: str
) -> None:
    details = {"supplier_id": 1, "trade": "plating", "description": "Rims", **wrong}
    with pytest.raises(Refusal) as refused:
        OutsideDetails(**details).checked(minor_digits=2)  # type: ignore[arg-type]  # wrong on purpose
    assert refused.value.field == field


@pytest.mark.parametrize("result", ["not_good", "lost"])
def test_a_part_that_did_not_come_back_good_needs_a_word(result: str) -> None:
    with pytest.raises(Refusal) as refused:
        TagCheck(tag_id=1, result=result).checked()
    assert refused.value.code == "check-note-missing"
    assert TagCheck(tag_id=1, result=result, note=" flaked ").checked().note == "flaked"
