"""Limits: in, beside and beyond them."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from harness.measurements import Conditions, Limit, Verdict
from harness.measurements.limits import worst
from harness.measurements.sources import practice

HABIT = practice("A habit")
BOTH = Limit(
    quantity="Volts",
    unit="V",
    low=13.5,
    high=14.8,
    fault_below=12.8,
    fault_above=15.0,
    source=HABIT,
)


@pytest.mark.parametrize(
    ("volts", "verdict"),
    [
        (12.79, Verdict.FAULT),
        (12.8, Verdict.LOOK_FURTHER),
        (13.49, Verdict.LOOK_FURTHER),
        (13.5, Verdict.GOOD),
        (14.8, Verdict.GOOD),
        (14.81, Verdict.LOOK_FURTHER),
        (15.0, Verdict.LOOK_FURTHER),
        (15.01, Verdict.FAULT),
    ],
)
def test_what_lies_on_a_limit_is_inside_it(volts: float, verdict: Verdict) -> None:
    assert BOTH.verdict(volts) is verdict


def test_binary_fractions_do_not_push_a_reading_over_its_limit() -> None:
    limit = Limit(quantity="Drop", unit="V", high=0.3, fault_above=0.3, source=HABIT)
    assert 0.1 + 0.2 > 0.3
    assert limit.verdict(0.1 + 0.2) is Verdict.GOOD


@pytest.mark.parametrize(
    "ends",
    [
        {},
        {"low": 2.0, "high": 1.0},
        {"low": 1.0, "fault_below": 2.0},
        {"high": 2.0, "fault_above": 1.0},
    ],
)
def test_ends_out_of_order_are_no_limit(ends: dict[str, Any]) -> None:
    with pytest.raises(ValueError, match="out of order"):
        Limit(quantity="Volts", unit="V", source=HABIT, **ends)


def test_a_limit_is_scaled_with_all_its_ends_and_names_its_new_source() -> None:
    twice = BOTH.times(2, source=practice("Twice the habit"))
    ends = (twice.fault_below, twice.low, twice.high, twice.fault_above)
    assert ends == (25.6, 27.0, 29.6, 30.0)
    assert twice.source.words == "Twice the habit"


@given(st.floats(-1e6, 1e6), st.floats(0.5, 4))
def test_a_scaled_limit_says_the_same_of_scaled_volts(
    volts: float, factor: float
) -> None:
    near = min(abs(volts - end) for end in (12.8, 13.5, 14.8, 15.0))
    if near > 1e-5:
        scaled = BOTH.times(factor, source=HABIT)
        assert scaled.verdict(volts * factor) is BOTH.verdict(volts)


def test_the_worst_decides() -> None:
    assert worst((Verdict.GOOD, Verdict.LOOK_FURTHER)) is Verdict.LOOK_FURTHER
    assert worst((Verdict.FAULT, Verdict.GOOD)) is Verdict.FAULT
    assert worst((Verdict.GOOD,)) is Verdict.GOOD


def test_conditions_read_as_one_line() -> None:
    when = Conditions(
        celsius=(-20, 50), rested_h=4, engine_rpm=2500, words="lights off"
    )
    assert when.sentence == (
        "lights off, -20 to 50 °C, rested 4 h or more, engine at 2,500 rpm or more"
    )
    assert Conditions(celsius=(21, 21)).sentence == "21 °C"
    assert Conditions().sentence == ""


def test_a_limit_reads_as_one_line() -> None:
    assert BOTH.sentence == "Volts: 13.5 to 14.8 V"
    least = Limit(quantity="Volts", unit="V", low=9.6, source=HABIT)
    assert least.sentence == "Volts: 9.6 V at least"
    beyond = Limit(quantity="Volts", unit="V", fault_above=15, source=HABIT)
    assert beyond.sentence == "Volts: a fault beyond 15 V"
