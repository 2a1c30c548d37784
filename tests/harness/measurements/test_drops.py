"""Voltage drop under load."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from harness import HarnessError
from harness.measurements import Judgement, System, Verdict, judge
from harness.measurements.drop_limits import STRETCHES
from tests.harness.measurements.bikes import SIX, SYSTEMS, TWELVE


def dropped(
    drop_v: float, stretch: str = "earth-side", system: System = TWELVE, **o: float
) -> Judgement:
    return judge("voltage-drop", {"stretch": stretch, "drop_v": drop_v, **o}, system)


def test_an_earth_side_loses_a_tenth_of_a_volt_at_most() -> None:
    # V1 (prac H), V5 (prac M).
    assert dropped(0.1).verdict is Verdict.GOOD
    assert dropped(0.12).verdict is Verdict.LOOK_FURTHER
    assert dropped(0.2).verdict is Verdict.FAULT
    assert dropped(0.05, system=SIX).verdict is Verdict.GOOD
    assert dropped(0.1, system=SIX).verdict is Verdict.FAULT


def test_the_current_that_flowed_gives_the_resistance() -> None:
    # V6 (calc H): at 10 A, 0.1 V is 10 milliohms.
    judged = dropped(0.1, load_a=10)
    ohms = next(one for one in judged.numbers if one.name == "stretch_mohm")
    assert ohms.value == pytest.approx(10.0)
    assert ohms.unit == "mΩ"


def test_without_the_current_a_good_drop_is_taken_with_a_grain_of_salt() -> None:
    assert "really on" in dropped(0.0).remarks[0]
    assert dropped(0.0, load_a=5).remarks == ()


def test_a_stretch_that_takes_all_the_volts_is_open() -> None:
    for system in SYSTEMS:
        judged = dropped(system.volts * 0.95, "switch", system)
        assert judged.verdict is Verdict.FAULT
        assert "open" in judged.says


def test_with_no_load_there_is_no_voltage_drop_to_judge() -> None:
    with pytest.raises(HarnessError, match="switch the load on"):
        dropped(0.0, load_a=0)


@pytest.mark.parametrize(
    ("drop_v", "system"), [(12.0, SIX), (-0.1, TWELVE), (24.0, TWELVE)]
)
def test_what_cannot_be_dropped_is_refused(drop_v: float, system: System) -> None:
    with pytest.raises(HarnessError, match="without a sign"):
        dropped(drop_v, system=system)


def test_a_stretch_that_is_not_on_the_list_is_refused() -> None:
    with pytest.raises(HarnessError, match="earth-side"):
        dropped(0.1, "somewhere")


@given(
    st.sampled_from([stretch.name for stretch in STRETCHES]),
    st.floats(0, 7.8),
    st.floats(0.5, 1),
)
def test_a_smaller_drop_is_never_judged_worse(
    stretch: str, drop_v: float, share: float
) -> None:
    order = [Verdict.GOOD, Verdict.LOOK_FURTHER, Verdict.FAULT]
    for system in SYSTEMS:
        less = dropped(drop_v * share, stretch, system).verdict
        more = dropped(drop_v, stretch, system).verdict
        assert order.index(less) <= order.index(more)
