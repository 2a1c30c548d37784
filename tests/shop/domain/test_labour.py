"""Labour: whole minutes at a frozen rate."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.domain.entries import altered
from shop.domain.labour import LabourEntry, hours_and_minutes, labour_net
from shop.domain.refusals import Refusal


@pytest.mark.parametrize(
    ("minutes", "rate", "net"),
    [
        (60, "54.00", "54.00"),
        (50, "54.00", "45.00"),
        (1, "54.00", "0.90"),
        (7, "47.50", "5.54"),  # 5.541666...
        (1, "0.30", "0.01"),  # 0.005, half up
        (0, "54.00", "0.00"),
    ],
)
def test_minutes_times_rate_by_hand(minutes: int, rate: str, net: str) -> None:
    found = labour_net(minutes=minutes, hourly_rate=Decimal(rate))
    assert str(found) == net


def test_time_cannot_be_negative() -> None:
    with pytest.raises(ValueError, match="negative"):
        labour_net(minutes=-1, hourly_rate=Decimal(54))


@given(st.integers(0, 1440), st.integers(0, 30000))
def test_more_time_never_costs_less(minutes: int, rate_cents: int) -> None:
    rate = Decimal(rate_cents).scaleb(-2)
    now = labour_net(minutes=minutes, hourly_rate=rate)
    assert labour_net(minutes=minutes + 1, hourly_rate=rate) >= now


@pytest.mark.parametrize(
    ("minutes", "text"), [(0, "0 min"), (59, "59 min"), (60, "1 h"), (95, "1 h 35 min")]
)
def test_time_is_said_in_hours_and_minutes(minutes: int, text: str) -> None:
    assert hours_and_minutes(minutes) == text


def entry(**changes: object) -> LabourEntry:
    return altered(
        LabourEntry(
            kind="repair",
            minutes=30,
            description="New bullet on the tail feed",
            reason="from the job card",
        ),
        changes,
    )


@pytest.mark.parametrize(
    ("changes", "code", "field"),
    [
        ({"minutes": 0}, "minutes-out-of-range", "minutes"),
        ({"minutes": 1441}, "minutes-out-of-range", "minutes"),
        ({"description": "  "}, "text-missing", "description"),
        ({"description": "x" * 401}, "text-too-long", "description"),
        ({"reason": " "}, "text-missing", "reason"),
        ({"reason": "x" * 201}, "text-too-long", "reason"),
        ({"billing": "barter"}, "not-in-list", "billing"),
        ({"kind": "polishing"}, "not-in-list", "kind"),
        ({"hourly_rate": Decimal(-1)}, "money-negative", "hourly_rate"),
        ({"hourly_rate": Decimal("1.005")}, "money-too-fine", "hourly_rate"),
        ({"hourly_rate": Decimal("NaN")}, "money-too-large", "hourly_rate"),
    ],
)
def test_an_entry_that_cannot_be_booked_says_where(
    changes: dict[str, object], code: str, field: str
) -> None:
    assert entry().checked(minor_digits=2).minutes == 30
    with pytest.raises(Refusal) as refused:
        entry(**changes).checked(minor_digits=2)
    assert (refused.value.code, refused.value.field) == (code, field)
