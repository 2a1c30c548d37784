"""The battery by hydrometer."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from harness import HarnessError
from harness.measurements import Judgement, System, Verdict, judge
from harness.measurements.gravity import corrected_gravity
from tests.harness.measurements.bikes import SIX, SYSTEMS, TWELVE


def read(
    cells: list[float], system: System = TWELVE, *, celsius: float = 26.7
) -> Judgement:
    given: dict[str, object] = {"electrolyte_c": celsius}
    for place, gravity in enumerate(cells, start=1):
        given[f"cell_{place}_gravity"] = gravity
    return judge("battery-gravity", given, system)


# B5 (pub H, S33): worked corrections, to the last printed digit.
@pytest.mark.parametrize(
    ("gravity", "fahrenheit", "corrected"), [(1.250, 20, 1.226), (1.235, 100, 1.243)]
)
def test_the_worked_corrections_come_out(
    gravity: float, fahrenheit: float, corrected: float
) -> None:
    celsius = (fahrenheit - 32) / 1.8
    assert corrected_gravity(gravity, celsius) == pytest.approx(corrected, abs=5e-4)


def test_the_correction_is_that_of_the_metric_texts() -> None:
    # B4 (pub H): 0.0007 for each °C; the two forms agree to 4 %.
    a_kelvin = corrected_gravity(1.2, 21) - corrected_gravity(1.2, 20)
    assert a_kelvin == pytest.approx(0.0007, rel=0.04)


# B2 (pub M).
@pytest.mark.parametrize(
    ("gravity", "verdict"),
    [
        (1.270, Verdict.GOOD),
        (1.235, Verdict.LOOK_FURTHER),
        (1.180, Verdict.LOOK_FURTHER),
        (1.150, Verdict.FAULT),
    ],
)
def test_even_cells_are_judged_by_their_charge(
    gravity: float, verdict: Verdict
) -> None:
    for system in SYSTEMS:
        assert read([gravity] * system.cells, system).verdict is verdict


def test_one_cell_behind_the_others_is_a_fault_and_is_named() -> None:
    judged = read([1.27, 1.27, 1.21, 1.265, 1.27, 1.27])
    assert judged.verdict is Verdict.FAULT
    assert judged.limit.quantity == "Difference between the cells"
    assert "cell 3" in judged.next_step


def test_cells_a_little_apart_want_an_equalising_charge() -> None:
    judged = read([1.29, 1.25, 1.27], SIX)
    assert judged.verdict is Verdict.LOOK_FURTHER
    assert "cell 2" in judged.next_step


def test_some_cells_alone_never_make_a_battery_good() -> None:
    judged = read([1.27, 1.27])
    assert judged.verdict is Verdict.LOOK_FURTHER
    assert "2 of 6 cells" in judged.says
    assert "Read the other cells" in judged.next_step


def test_no_cell_at_all_is_refused() -> None:
    with pytest.raises(HarnessError, match="enter one cell at least"):
        read([])


@pytest.mark.parametrize("gravity", [1265, 0.99, 1.36])
def test_a_float_that_does_not_swim_is_refused(gravity: float) -> None:
    with pytest.raises(HarnessError, match=r"write it as 1\.265"):
        read([gravity])


def test_a_seventh_cell_is_none_of_a_twelve_volt_battery() -> None:
    with pytest.raises(HarnessError, match="no reading 'cell_7_gravity'"):
        read([1.26] * 7)


@given(st.lists(st.floats(1.0, 1.35), min_size=1, max_size=6), st.floats(-20, 55))
def test_every_reading_that_can_be_is_judged(
    cells: list[float], celsius: float
) -> None:
    judged = read(cells, celsius=celsius)
    assert judged.verdict in Verdict
    assert judged.next_step.endswith(".")
