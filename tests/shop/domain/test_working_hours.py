"""A technician's week: hours in a day, no finer than hundredths."""

from decimal import Decimal

import pytest

from shop.domain.refusals import Refusal
from shop.domain.working_hours import WeekHours


def test_a_week_becomes_minutes_by_weekday() -> None:
    week = WeekHours(monday=Decimal("7.5"), friday=Decimal(0), saturday=Decimal(4))
    assert week.checked().minutes == (450, 360, 360, 360, 0, 240, 0)


@pytest.mark.parametrize("hours", ["-1", "24.01", "NaN", "Infinity", "6.333"])
def test_hours_that_no_day_has_are_refused_at_their_weekday(hours: str) -> None:
    with pytest.raises(Refusal) as refused:
        WeekHours(thursday=Decimal(hours)).checked()
    assert refused.value.field == "thursday"
