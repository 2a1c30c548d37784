"""Charging voltage."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from harness import HarnessError
from harness.measurements import Judgement, System, Verdict, judge, kind_named
from harness.measurements.charging import bulk_v
from tests.harness.measurements.bikes import SIX, TWELVE, TWENTY_FOUR


def running(
    running_v: float, system: System = TWELVE, *, rpm: float = 4000, **others: float
) -> Judgement:
    given = {"running_v": running_v, "engine_rpm": rpm, **others}
    return judge("charging", given, system)


# B7 (prac H): 13.5-14.5 good, up to 14.8 normal, 12.8-13.4 look further, over 15
# overcharge. B8 (prac M): 6 V bikes 6.75-7.4 V, 7.5 V bulk.
@pytest.mark.parametrize(
    ("system", "running_v", "verdict"),
    [
        (TWELVE, 12.6, Verdict.FAULT),
        (TWELVE, 12.8, Verdict.LOOK_FURTHER),
        (TWELVE, 13.4, Verdict.LOOK_FURTHER),
        (TWELVE, 13.5, Verdict.GOOD),
        (TWELVE, 14.5, Verdict.GOOD),
        (TWELVE, 14.8, Verdict.GOOD),
        (TWELVE, 14.9, Verdict.LOOK_FURTHER),
        (TWELVE, 15.1, Verdict.FAULT),
        (SIX, 6.3, Verdict.FAULT),
        (SIX, 6.6, Verdict.LOOK_FURTHER),
        (SIX, 6.75, Verdict.GOOD),
        (SIX, 7.4, Verdict.GOOD),
        (SIX, 7.6, Verdict.FAULT),
        (TWENTY_FOUR, 25.2, Verdict.FAULT),
        (TWENTY_FOUR, 28.0, Verdict.GOOD),
        (TWENTY_FOUR, 30.4, Verdict.FAULT),
    ],
)
def test_the_rule_of_the_trade_judges(
    system: System, running_v: float, verdict: Verdict
) -> None:
    judged = running(running_v, system)
    assert judged.verdict is verdict
    assert "common practice in the trade" in judged.source


# B6 (pub~ M, S34): 14.4 V at 25 °C is 14.85 V at 0 °C and 14.13 V at 40 °C.
@pytest.mark.parametrize(("celsius", "volts"), [(25, 14.40), (0, 14.85), (40, 14.13)])
def test_what_a_battery_wants_falls_with_warmth(celsius: float, volts: float) -> None:
    assert bulk_v(celsius, TWELVE) == pytest.approx(volts, abs=0.005)
    assert bulk_v(celsius, SIX) == pytest.approx(volts / 2, abs=0.005)
    references = kind_named("charging").references(TWELVE)
    assert volts in [pytest.approx(limit.high, abs=0.005) for limit in references]
    assert all(not limit.source.is_published for limit in references)


def test_a_hot_battery_is_spared_what_a_cool_one_takes() -> None:
    assert running(14.7, battery_c=20).verdict is Verdict.GOOD
    hot = running(14.7, battery_c=45)
    assert hot.verdict is Verdict.LOOK_FURTHER
    assert "warm" in hot.says
    assert hot.limit.high == pytest.approx(14.8 - 6 * 0.003 * 20)


def test_cold_is_no_excuse_for_overcharge() -> None:
    assert running(15.2, battery_c=-10).verdict is Verdict.FAULT


def test_a_slow_engine_condemns_and_praises_nothing() -> None:
    assert running(12.4, rpm=1000).verdict is Verdict.LOOK_FURTHER
    assert running(14.0, rpm=1000).verdict is Verdict.LOOK_FURTHER
    assert "2500 rpm" in running(12.4, rpm=1000).next_step
    assert running(15.6, rpm=1000).verdict is Verdict.FAULT


def test_no_charge_sends_to_the_leads_before_the_parts() -> None:
    judged = running(12.3)
    assert judged.says == "It does not charge."
    assert judged.next_step.index("voltage drop") < judged.next_step.index("regulator")


@pytest.mark.parametrize(
    ("running_v", "system"), [(14.2, SIX), (28.4, TWELVE), (-14.2, TWELVE)]
)
def test_volts_of_another_system_are_refused(running_v: float, system: System) -> None:
    with pytest.raises(HarnessError, match=f"{system.volts} V bike"):
        running(running_v, system)


@given(st.floats(0, 20.4), st.floats(300, 15000), st.floats(-20, 50))
def test_every_reading_that_can_be_is_judged(
    running_v: float, rpm: float, battery_c: float
) -> None:
    judged = running(running_v, rpm=rpm, battery_c=battery_c)
    assert judged.verdict in Verdict
    assert (judged.verdict is Verdict.GOOD) == judged.says.endswith(
        "as it should."
    ) or (rpm < 2500)
