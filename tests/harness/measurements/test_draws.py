"""Draw with everything off. V7 (prac M)."""

import pytest

from harness import HarnessError
from harness.measurements import Judgement, Verdict, judge, kind_named
from tests.harness.measurements.bikes import SIX, TWELVE


def drawn(draw_ma: object, fitted: str = "nothing", **others: object) -> Judgement:
    given = {"draw_ma": draw_ma, "fitted": fitted, **others}
    return judge("parasitic-draw", given, TWELVE)


@pytest.mark.parametrize(
    ("draw_ma", "fitted", "verdict"),
    [
        (0, "nothing", Verdict.GOOD),
        (1, "nothing", Verdict.GOOD),
        (5, "nothing", Verdict.LOOK_FURTHER),
        (12, "nothing", Verdict.FAULT),
        (12, "electronics", Verdict.GOOD),
        (30, "electronics", Verdict.LOOK_FURTHER),
        (60, "electronics", Verdict.FAULT),
    ],
)
def test_a_bike_without_electronics_draws_nothing(
    draw_ma: float, fitted: str, verdict: Verdict
) -> None:
    assert drawn(draw_ma, fitted).verdict is verdict


def test_the_hours_to_half_empty_are_given() -> None:
    # V7 (calc): 50 mA empties half of 14 Ah in 140 h.
    judged = drawn(50, capacity_ah=14)
    assert [one.value for one in judged.numbers] == [pytest.approx(140.0)]
    assert drawn(0, capacity_ah=14).numbers == ()


def test_the_ammeter_goes_into_the_earthed_lead_whichever_that_is() -> None:
    steps = " ".join(kind_named("parasitic-draw").steps_on(SIX))
    assert "earthed (positive) lead" in steps


@pytest.mark.parametrize("draw_ma", [-3, 1e6, "nan"])
def test_a_draw_that_cannot_be_is_refused(draw_ma: object) -> None:
    with pytest.raises(HarnessError, match="draw_ma"):
        drawn(draw_ma)
