"""The battery under load."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from harness import HarnessError
from harness.measurements import Judgement, System, Verdict, judge, kind_named
from harness.measurements.loading import least_loaded_v
from tests.harness.measurements.bikes import SYSTEMS, TWELVE


def under_load(
    loaded_v: float, battery_c: float, system: System = TWELVE, **others: float
) -> Judgement:
    given = {"loaded_v": loaded_v, "battery_c": battery_c, **others}
    return judge("battery-load", given, system)


# B10 (prac H): half the cold-cranking amps for 15 s, least volts by temperature.
TABLE = [
    (21, 9.6),
    (16, 9.5),
    (10, 9.4),
    (4, 9.3),
    (-1, 9.1),
    (-7, 8.9),
    (-12, 8.7),
    (-18, 8.5),
]


@pytest.mark.parametrize(("battery_c", "least_v"), TABLE)
def test_the_table_of_the_trade_divides_good_from_weak(
    battery_c: float, least_v: float
) -> None:
    for system in SYSTEMS:
        share = system.volts / 12
        assert least_loaded_v(battery_c, system) == pytest.approx(least_v * share)
        good = under_load((least_v + 0.05) * share, battery_c, system)
        weak = under_load((least_v - 0.05) * share, battery_c, system)
        bad = under_load((least_v - 0.5) * share, battery_c, system)
        assert good.verdict is Verdict.GOOD
        assert weak.verdict is Verdict.LOOK_FURTHER
        assert bad.verdict is Verdict.FAULT
        assert "common practice" in bad.source


def test_a_load_too_light_proves_nothing_good() -> None:
    flattered = under_load(11.0, 21, load_a=30, cold_cranking_a=200)
    assert flattered.verdict is Verdict.LOOK_FURTHER
    assert "too light" in flattered.next_step
    assert under_load(11.0, 21, load_a=100, cold_cranking_a=200).verdict is Verdict.GOOD
    # Half of 200 A is 100 A; whoever falls at less is bad all the more.
    assert under_load(8.0, 21, load_a=30, cold_cranking_a=200).verdict is Verdict.FAULT


def test_the_three_ratings_are_there_to_compare_with() -> None:
    # B11 (pub~ M, S37): SAE 7.2 V, EN 7.5 V, old DIN 9.0 V at -18 °C; second-hand.
    limits = kind_named("battery-load").references(TWELVE)
    assert [limit.low for limit in limits] == [7.2, 7.5, 9.0]
    assert all(limit.conditions.celsius == (-18, -18) for limit in limits)
    assert all(not limit.source.is_published for limit in limits)


@pytest.mark.parametrize("battery_c", [-18.1, 51])
def test_a_temperature_off_the_table_is_refused(battery_c: float) -> None:
    with pytest.raises(HarnessError, match="battery_c"):
        under_load(9.6, battery_c)


@given(st.floats(-18, 50), st.floats(-18, 50))
def test_a_colder_battery_is_never_asked_for_more(one_c: float, other_c: float) -> None:
    colder, warmer = sorted((one_c, other_c))
    assert least_loaded_v(colder, TWELVE) <= least_loaded_v(warmer, TWELVE)


@given(st.floats(0, 13.2), st.floats(-18, 50))
def test_more_volts_are_never_judged_worse(loaded_v: float, battery_c: float) -> None:
    order = [Verdict.FAULT, Verdict.LOOK_FURTHER, Verdict.GOOD]
    less = under_load(loaded_v * 0.9, battery_c).verdict
    assert order.index(less) <= order.index(under_load(loaded_v, battery_c).verdict)
