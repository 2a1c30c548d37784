"""Charge from volts and gravity, against the tables and Vinal's rule."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from harness.measurements.charges import (
    between,
    charge_of_gravity,
    charge_of_rest_v,
    gravity_of_rest_v,
    rest_v_of_gravity,
)


# B1 (pub M, S31 and S32): the two tables at 25 °C. Makers differ by 0.1 V, so either
# table's figure must lie in the span that is given, to a percent.
@pytest.mark.parametrize(
    ("rest_v", "percent"),
    [
        (12.66, 100),
        (12.45, 75),
        (12.30, 50),
        (12.15, 25),
        (12.6, 100),
        (12.4, 75),
        (12.2, 50),
        (12.0, 25),
        (11.6, 0),
    ],
)
def test_the_span_holds_what_either_table_says(rest_v: float, percent: float) -> None:
    for cells in (3, 6, 12):
        charge = charge_of_rest_v(rest_v * cells / 6, cells=cells)
        assert charge.harsh_percent - 1 <= percent <= charge.kind_percent + 1


# B2 (pub M, S31): the gravities of the first table.
@pytest.mark.parametrize(
    ("low", "high", "percent"),
    [
        (1.260, 1.280, 100),
        (1.230, 1.250, 75),
        (1.200, 1.220, 50),
        (1.170, 1.190, 25),
    ],
)
def test_gravity_gives_the_charge_of_its_band(
    low: float, high: float, percent: float
) -> None:
    assert charge_of_gravity(low).kind_percent == pytest.approx(percent)
    assert charge_of_gravity(high).harsh_percent == pytest.approx(percent)


# B3 (formula mem H, numbers calc): Vinal, Storage Batteries; 0.01 V.
@pytest.mark.parametrize(
    ("gravity", "rest_v"), [(1.265, 12.63), (1.190, 12.18), (1.120, 11.76)]
)
def test_vinals_rule_ties_volts_and_gravity_by_memory(
    gravity: float, rest_v: float
) -> None:
    assert rest_v_of_gravity(gravity, cells=6) == pytest.approx(rest_v, abs=0.005)
    assert gravity_of_rest_v(rest_v, cells=6) == pytest.approx(gravity, abs=0.001)


@given(st.floats(0, 14.4), st.floats(0, 14.4))
def test_more_volts_never_mean_less_charge(one_v: float, other_v: float) -> None:
    low, high = sorted((one_v, other_v))
    less, more = charge_of_rest_v(low, cells=6), charge_of_rest_v(high, cells=6)
    assert less.harsh_percent <= more.harsh_percent
    assert less.kind_percent <= more.kind_percent


@given(st.floats(1.0, 1.35), st.floats(1.0, 1.35))
def test_more_gravity_never_means_less_charge(one: float, other: float) -> None:
    low, high = sorted((one, other))
    less, more = charge_of_gravity(low), charge_of_gravity(high)
    assert less.harsh_percent <= more.harsh_percent
    assert less.kind_percent <= more.kind_percent


@given(st.floats(0, 14.4))
def test_the_span_is_never_upside_down_nor_outside_nought_to_hundred(
    rest_v: float,
) -> None:
    charge = charge_of_rest_v(rest_v, cells=6)
    assert 0 <= charge.harsh_percent <= charge.kind_percent <= 100


def test_beyond_the_ends_a_table_is_held() -> None:
    points = ((0.0, 1.0), (1.0, 3.0))
    assert [between(x, points) for x in (-1, 0, 0.5, 1, 2)] == [1, 1, 2, 3, 3]
