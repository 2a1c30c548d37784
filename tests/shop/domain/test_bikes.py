"""What can be entered about a bike: numbers are free text, electrics are not."""

import pytest

from shop.domain.bikes import BikeDetails
from shop.domain.entries import altered
from shop.domain.refusals import Refusal


def details(**changes: object) -> BikeDetails:
    return altered(BikeDetails(maker="Tarnfell", model="Heron 350"), changes)


@pytest.mark.parametrize("number", ["", "H35/0417", "4711 über Ø", "illegible, *_*"])
def test_a_frame_number_is_what_is_stamped(number: str) -> None:
    assert details(frame_number=number).checked().frame_number == number


@pytest.mark.parametrize("year", [1884, 2101, -5])
def test_a_year_before_the_first_motorcycle_is_refused(year: int) -> None:
    with pytest.raises(Refusal) as refused:
        details(year=year).checked()
    assert refused.value.field == "year"


def test_a_year_that_nobody_knows_stays_empty() -> None:
    assert details().checked().year is None


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"system_volts": 24}, "system_volts"),
        ({"earth": "neutral"}, "earth"),
        ({"maker": ""}, "maker"),
        ({"model": "x" * 81}, "model"),
    ],
)
def test_a_bike_that_the_bench_cannot_know_is_refused(
    changes: dict[str, object], field: str
) -> None:
    with pytest.raises(Refusal) as refused:
        details(**changes).checked()
    assert refused.value.field == field


def test_six_volts_and_positive_earth_are_as_good_as_any() -> None:
    found = details(system_volts=6, earth="positive").checked()
    assert (found.system_volts, found.earth) == (6, "positive")
