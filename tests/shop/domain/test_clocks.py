"""Clocks: rounding, midnight, the nights on which the clocks change, forgotten ones."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.domain.clocks import (
    ClockEntry,
    RoundingRule,
    Share,
    TimeRounding,
    check_stop,
    is_forgotten,
    likely_stop,
    shares,
)
from shop.domain.labour import MAX_MINUTES
from shop.domain.refusals import Refusal

BERLIN = "Europe/Berlin"
ZONES = ("UTC", BERLIN, "America/New_York", "Australia/Lord_Howe", "Asia/Kathmandu")
AS_IT_WAS = RoundingRule()
TENTHS_UP = RoundingRule(how=TimeRounding.UP, step_minutes=6)
QUARTERS = RoundingRule(how=TimeRounding.NEAREST, step_minutes=15)


def moments() -> st.SearchStrategy[datetime]:
    first = datetime(2024, 1, 1, tzinfo=UTC)
    seconds = st.integers(0, 4 * 365 * 24 * 3600)
    return seconds.map(lambda s: first + timedelta(seconds=s))


def local(text: str, *, fold: int = 0) -> datetime:
    """Return a moment written as the clock on the wall in Berlin shows it."""
    wall = datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(BERLIN), fold=fold)
    return wall.astimezone(UTC)


def rules() -> st.SearchStrategy[RoundingRule]:
    return st.builds(
        RoundingRule,
        how=st.sampled_from(TimeRounding),
        step_minutes=st.sampled_from((5, 6, 10, 15)),
        minimum_minutes=st.integers(0, 60),
    )


@pytest.mark.parametrize(
    ("rule", "worked_s", "booked"),
    [
        (AS_IT_WAS, 59, 0),  # a slip of the finger
        (AS_IT_WAS, 60, 1),
        (AS_IT_WAS, 89, 1),
        (AS_IT_WAS, 90, 2),
        (TENTHS_UP, 59, 0),
        (TENTHS_UP, 61, 6),
        (TENTHS_UP, 360, 6),
        (TENTHS_UP, 361, 12),
        (QUARTERS, 7 * 60 + 29, 1),  # nearest is nothing, but work was done
        (QUARTERS, 7 * 60 + 30, 15),
        (QUARTERS, 52 * 60, 45),
        (QUARTERS, 53 * 60, 60),
        (RoundingRule(minimum_minutes=30), 61, 30),
        (RoundingRule(minimum_minutes=30), 45 * 60, 45),
        (RoundingRule(minimum_minutes=30), 30, 0),
    ],
)
def test_minutes_by_the_shops_rule(
    rule: RoundingRule, worked_s: int, booked: int
) -> None:
    assert rule.booked(timedelta(seconds=worked_s)) == booked


@given(rules(), st.integers(0, MAX_MINUTES * 60), st.integers(0, 3600))
def test_longer_work_never_books_less(
    rule: RoundingRule, worked_s: int, more_s: int
) -> None:
    less = rule.booked(timedelta(seconds=worked_s))
    assert rule.booked(timedelta(seconds=worked_s + more_s)) >= less


@given(rules(), st.integers(60, MAX_MINUTES * 60))
def test_rounding_stays_within_its_step_and_its_direction(
    rule: RoundingRule, worked_s: int
) -> None:
    booked = rule.booked(timedelta(seconds=worked_s))
    off_s = booked * 60 - worked_s
    if booked in {rule.minimum_minutes, 1}:
        return
    if rule.how is TimeRounding.UP:
        assert 0 <= off_s < rule.step_minutes * 60
        assert booked % rule.step_minutes == 0
    elif rule.how is TimeRounding.NEAREST:
        assert abs(off_s) * 2 <= rule.step_minutes * 60
        assert booked % rule.step_minutes == 0
    else:
        assert abs(off_s) <= 30


def test_work_past_midnight_is_booked_on_both_days() -> None:
    found = shares(
        started_at=local("2026-03-02T22:30"),
        stopped_at=local("2026-03-03T01:00"),
        zone=BERLIN,
        rule=AS_IT_WAS,
    )
    assert found == (Share(date(2026, 3, 2), 90), Share(date(2026, 3, 3), 60))


def test_midnight_does_not_charge_the_minimum_twice() -> None:
    found = shares(
        started_at=local("2026-03-02T23:50"),
        stopped_at=local("2026-03-03T00:10"),
        zone=BERLIN,
        rule=RoundingRule(minimum_minutes=30),
    )
    assert sum(share.minutes for share in found) == 30
    assert [share.minutes for share in found] == [15, 15]


@pytest.mark.parametrize(
    ("started_at", "stopped_at", "minutes"),
    [
        # At 02:00 the clock is put on to 03:00: three hours on the wall are two.
        (local("2026-03-29T01:00"), local("2026-03-29T04:00"), 120),
        # At 03:00 it is put back to 02:00: three hours on the wall are four.
        (local("2026-10-25T01:00"), local("2026-10-25T04:00"), 240),
        # The hour that comes twice: from its first to its second half past two.
        (local("2026-10-25T02:30"), local("2026-10-25T02:30", fold=1), 60),
    ],
)
def test_the_night_on_which_the_clocks_change_is_as_long_as_it_was(
    started_at: datetime, stopped_at: datetime, minutes: int
) -> None:
    (share,) = shares(
        started_at=started_at, stopped_at=stopped_at, zone=BERLIN, rule=AS_IT_WAS
    )
    assert share.minutes == minutes


@given(
    moments(),
    st.integers(0, MAX_MINUTES * 60),
    st.sampled_from(ZONES),
    rules(),
)
def test_shares_add_up_lie_on_the_days_worked_and_fit_a_labour_line(
    started_at: datetime, worked_s: int, zone: str, rule: RoundingRule
) -> None:
    stopped_at = started_at + timedelta(seconds=worked_s)
    found = shares(started_at=started_at, stopped_at=stopped_at, zone=zone, rule=rule)
    assert sum(share.minutes for share in found) == rule.booked(stopped_at - started_at)
    assert all(1 <= share.minutes <= MAX_MINUTES for share in found)
    days = [share.day for share in found]
    assert days == sorted(set(days))
    place = ZoneInfo(zone)
    first, last = (t.astimezone(place).date() for t in (started_at, stopped_at))
    assert all(first <= day <= last for day in days)


def test_a_clock_that_stops_before_it_started_is_a_mistake_of_ours() -> None:
    with pytest.raises(ValueError, match="before"):
        shares(
            started_at=local("2026-03-02T10:00"),
            stopped_at=local("2026-03-02T09:00"),
            zone=BERLIN,
            rule=AS_IT_WAS,
        )


@pytest.mark.parametrize(
    ("started", "now", "forgotten"),
    [
        ("2026-03-02T08:00", "2026-03-02T18:00", False),  # ten hours to the minute
        ("2026-03-02T08:00", "2026-03-02T18:01", True),
        ("2026-03-02T20:00", "2026-03-03T00:00", False),
        ("2026-03-02T20:00", "2026-03-03T00:01", True),  # past midnight here
        ("2026-03-02T00:30", "2026-03-02T08:00", False),  # not past UTC's midnight
    ],
)
def test_a_clock_is_forgotten_past_its_hours_or_past_midnight_where_the_shop_is(
    started: str, now: str, forgotten: bool
) -> None:
    found = is_forgotten(
        started_at=local(started), at=local(now), zone=BERLIN, after_hours=10
    )
    assert found is forgotten


@pytest.mark.parametrize(
    ("started", "now", "offered"),
    [
        ("2026-03-02T08:00", "2026-03-03T07:00", "2026-03-02T18:00"),
        ("2026-03-02T20:00", "2026-03-03T07:00", "2026-03-02T23:59"),
        ("2026-03-02T08:00", "2026-03-02T09:00", "2026-03-02T09:00"),
    ],
)
def test_the_stop_offered_lies_on_the_day_of_the_work(
    started: str, now: str, offered: str
) -> None:
    found = likely_stop(
        started_at=local(started), at=local(now), zone=BERLIN, after_hours=10
    )
    assert found == local(offered)


@given(
    moments(),
    st.integers(0, 5 * MAX_MINUTES),
    st.sampled_from(ZONES),
    st.integers(1, 24),
)
def test_the_stop_offered_can_always_be_taken(
    started_at: datetime, ran_min: int, zone: str, after_hours: int
) -> None:
    at = started_at + timedelta(minutes=ran_min)
    stop = likely_stop(started_at=started_at, at=at, zone=zone, after_hours=after_hours)
    check_stop(started_at=started_at, stopped_at=stop, at=at)
    assert not is_forgotten(
        started_at=started_at, at=stop, zone=zone, after_hours=after_hours
    )


@pytest.mark.parametrize(
    ("stopped", "code"),
    [
        ("2026-03-04T12:01", "stop-in-future"),
        ("2026-03-02T07:59", "stop-before-start"),
        ("2026-03-03T08:01", "stretch-too-long"),
    ],
)
def test_a_stop_that_cannot_be_says_why(stopped: str, code: str) -> None:
    with pytest.raises(Refusal) as refused:
        check_stop(
            started_at=local("2026-03-02T08:00"),
            stopped_at=local(stopped),
            at=local("2026-03-04T12:00"),
        )
    assert (refused.value.code, refused.value.field) == (code, "stopped_at")


@pytest.mark.parametrize(
    ("entry", "field"),
    [
        (ClockEntry(kind="polishing"), "kind"),
        (ClockEntry(kind="repair", billing="barter"), "billing"),
        (ClockEntry(kind="repair", note="x" * 401), "note"),
    ],
)
def test_clocking_on_with_words_that_are_not_ours_is_refused(
    entry: ClockEntry, field: str
) -> None:
    with pytest.raises(Refusal) as refused:
        entry.checked()
    assert refused.value.field == field
