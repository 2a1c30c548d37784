"""The system a measurement is made on."""

import pytest

from harness import HarnessError
from harness.measurements import System, system_of


@pytest.mark.parametrize(("volts", "cells"), [(6, 3), (12, 6), (24, 12)])
def test_a_cell_has_two_volts(volts: int, cells: int) -> None:
    assert System(volts, "positive").cells == cells


def test_the_volts_of_a_loom_may_be_a_fraction() -> None:
    assert system_of(volts=12.0, earth="negative") == System(12, "negative")


@pytest.mark.parametrize("volts", [0.0, 8.0, 12.5, -12.0, 48.0, float("nan")])
def test_other_volts_are_refused(volts: float) -> None:
    with pytest.raises(HarnessError, match="give 6, 12 or 24"):
        system_of(volts=volts, earth="negative")


def test_polarity_is_never_assumed_and_both_problems_are_said() -> None:
    with pytest.raises(HarnessError) as refused:
        system_of(volts=9.0, earth="")
    assert [problem.where for problem in refused.value.problems] == ["volts", "earth"]
