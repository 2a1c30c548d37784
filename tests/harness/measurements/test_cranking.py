"""Cranking voltage."""

import pytest

from harness import HarnessError
from harness.measurements import Judgement, System, Verdict, judge
from tests.harness.measurements.bikes import SIX, SYSTEMS, TWELVE


def cranked(
    cranking_v: float, system: System = TWELVE, *, battery_c: float = 21
) -> Judgement:
    given = {"cranking_v": cranking_v, "battery_c": battery_c}
    return judge("cranking", given, system)


def test_the_battery_stays_above_nine_volts_six_at_ordinary_temperature() -> None:
    # B12 (prac M): not under 9.6 V, 6 V bikes 4.8 V. Cases 0.1 V clear of it.
    for system in SYSTEMS:
        share = system.volts / 12
        assert cranked(9.7 * share, system).verdict is Verdict.GOOD
        assert cranked(9.5 * share, system).verdict is Verdict.FAULT
    assert cranked(9.5).limit.low == 9.6
    assert cranked(4.7, SIX).limit.low == 4.8


def test_in_the_cold_a_battery_is_condemned_only_below_the_load_test_table() -> None:
    # B10 (prac H): 9.1 V at -1 °C.
    assert cranked(9.3, battery_c=-1).verdict is Verdict.LOOK_FURTHER
    assert cranked(9.0, battery_c=-1).verdict is Verdict.FAULT


def test_volts_that_hardly_fall_point_at_the_cables() -> None:
    judged = cranked(12.4)
    assert judged.verdict is Verdict.LOOK_FURTHER
    assert "voltage drops of the starter's feed and return" in judged.next_step


@pytest.mark.parametrize(("cranking_v", "system"), [(9.6, SIX), (14.0, TWELVE)])
def test_volts_of_another_system_are_refused(cranking_v: float, system: System) -> None:
    with pytest.raises(HarnessError, match=f"{system.volts} V bike"):
        cranked(cranking_v, system)
