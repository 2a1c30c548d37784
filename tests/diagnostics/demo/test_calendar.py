from datetime import UTC, date, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from diagnostics.demo.calendar import Calendar


@given(seconds=st.integers(0, 10**9), days=st.integers(1, 200), hour=st.integers(0, 23))
def test_whatever_happened_in_the_demo_lies_behind_us(
    seconds: int, days: int, hour: int
) -> None:
    now = datetime(2020, 1, 1, tzinfo=UTC) + timedelta(seconds=seconds)
    assert Calendar(now).at(days, hour) < now


def test_a_promise_may_lie_ahead() -> None:
    calendar = Calendar(datetime(2026, 2, 27, 12, tzinfo=UTC))
    assert calendar.day(-5) == date(2026, 3, 4)
