"""What an odometer can show, and what its figures add up to."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.domain.odometer_readings import OdometerEntry, Shown, in_km, known_km
from shop.domain.refusals import Refusal

DAY = date(1974, 5, 1)
FIGURES = st.lists(st.integers(0, 99_999), max_size=12)


def shown(figures: list[int], unit: str = "km") -> list[Shown]:
    return [
        Shown(distance=Decimal(f), unit=unit, read_on=DAY + timedelta(days=i))
        for i, f in enumerate(figures)
    ]


def test_a_mile_is_the_international_mile() -> None:
    # pub: international yard and pound agreement of 1959, 1 mi = 1609.344 m exactly
    assert in_km(Decimal(1), "miles") == Decimal("1.609344")


@pytest.mark.parametrize(
    ("distance", "unit", "field"),
    [
        ("-1", "km", "distance"),
        ("NaN", "km", "distance"),
        ("10000000", "km", "distance"),
        ("10.25", "km", "distance"),
        ("10", "furlongs", "unit"),
    ],
)
def test_what_no_instrument_shows_is_refused(
    distance: str, unit: str, field: str
) -> None:
    with pytest.raises(Refusal) as refused:
        OdometerEntry(distance=Decimal(distance), unit=unit).checked()
    assert refused.value.field == field


@given(FIGURES)
def test_figures_that_rise_come_to_the_last_less_the_first(figures: list[int]) -> None:
    rising = sorted(figures)
    ends = rising[-1] - rising[0] if rising else 0
    assert known_km(shown(rising)) == ends


@given(FIGURES, FIGURES)
def test_a_new_instrument_never_takes_miles_away(
    old: list[int], new: list[int]
) -> None:
    both = [*sorted(old), *sorted(new)]
    assert known_km(shown(both, "miles")) >= known_km(shown(sorted(old), "miles"))


def test_what_was_ridden_around_a_change_of_unit_is_not_known() -> None:
    assert known_km([*shown([100, 200], "miles"), *shown([1000, 1001])]) == (
        in_km(Decimal(100), "miles") + 1
    )
