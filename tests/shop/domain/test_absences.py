"""Absences: days in order, a year at most, and nothing at the bench meanwhile."""

from datetime import date

import pytest

from shop.domain.absences import AbsenceDetails, bench_days
from shop.domain.refusals import Refusal

THURSDAY = date(2026, 11, 26)
WEEK = (480, 480, 480, 480, 240, 0, 0)


def test_days_out_of_order_are_refused_at_the_last_day() -> None:
    with pytest.raises(Refusal) as refused:
        AbsenceDetails(first_on=THURSDAY, last_on=date(2026, 11, 25)).checked()
    assert refused.value.field == "last_on"


def test_one_day_and_a_whole_year_are_taken_and_more_is_not() -> None:
    AbsenceDetails(first_on=THURSDAY, last_on=THURSDAY).checked()
    AbsenceDetails(first_on=THURSDAY, last_on=date(2027, 11, 26)).checked()
    with pytest.raises(Refusal) as refused:
        AbsenceDetails(first_on=THURSDAY, last_on=date(2027, 11, 27)).checked()
    assert refused.value.code == "absence-too-long"


def test_days_away_have_no_hours_and_today_lacks_what_was_worked() -> None:
    away = [(date(2026, 11, 27), date(2026, 11, 30))]
    days = bench_days(WEEK, first=THURSDAY, away=away, gone_today=90)
    assert [days(day) for day in range(6)] == [390, 0, 0, 0, 0, 480]


def test_more_worked_than_the_day_has_leaves_nothing_of_it() -> None:
    days = bench_days(WEEK, first=THURSDAY, away=[], gone_today=600)
    assert [days(0), days(1), days(7)] == [0, 240, 480]
