from datetime import UTC, date, datetime

from hypothesis import given
from hypothesis import strategies as st

from diagnostics.demo.calendar import Calendar


@given(
    now=st.datetimes(timezones=st.just(UTC)).filter(lambda now: 2000 < now.year < 2100),
    days=st.integers(1, 200),
    hour=st.integers(0, 23),
)
def test_whatever_happened_in_the_demo_lies_behind_us(
    now: datetime, days: int, hour: int
) -> None:
    assert Calendar(now).at(days, hour) < now


def test_a_promise_may_lie_ahead() -> None:
    calendar = Calendar(datetime(2026, 2, 27, 12, tzinfo=UTC))
    assert calendar.day(-5) == date(2026, 3, 4)
