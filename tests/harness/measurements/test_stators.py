"""The stator's phases, at rest and running. V8 (prac M): 10 % or 0.1 Ω."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from harness import HarnessError
from harness.measurements import Judgement, Verdict, judge
from harness.measurements.stators import spread_percent
from tests.harness.measurements.bikes import TWELVE


def ohms(a: object, b: object, c: object, **others: object) -> Judgement:
    given = {"phase_ab_ohm": a, "phase_bc_ohm": b, "phase_ca_ohm": c}
    return judge("stator-ohms", {"body_ohm": "open", **given, **others}, TWELVE)


def volts(a: float, b: float, c: float) -> Judgement:
    given = {"phase_ab_ac_v": a, "phase_bc_ac_v": b, "phase_ca_ac_v": c}
    return judge("stator-volts", {**given, "engine_rpm": 3000}, TWELVE)


@pytest.mark.parametrize(
    ("phases", "verdict"),
    [
        ((0.6, 0.6, 0.6), Verdict.GOOD),
        ((0.6, 0.65, 0.69), Verdict.GOOD),  # within 0.1 Ω, though 14 % apart
        ((2.0, 2.1, 2.19), Verdict.GOOD),  # within 10 %, though 0.19 Ω apart
        ((2.0, 2.1, 2.26), Verdict.LOOK_FURTHER),
        ((2.0, 2.0, 3.0), Verdict.FAULT),
        ((0.6, 0.3, 0.3), Verdict.FAULT),
    ],
)
def test_phases_alike_within_ten_percent_or_a_tenth_of_an_ohm(
    phases: tuple[float, float, float], verdict: Verdict
) -> None:
    assert ohms(*phases).verdict is verdict


def test_the_leads_are_taken_off_before_comparing() -> None:
    # 1.2 against 1.5 is 22 % apart, but 0.9 and 1.2 without 0.3 Ω of leads is 30 %.
    judged = ohms(1.2, 1.5, 1.5, lead_ohm=0.3)
    assert judged.held[0].number.value == pytest.approx(100 * 0.3 / 1.1)


def test_an_open_phase_is_a_fault() -> None:
    judged = ohms(0.6, "open", "open")
    assert judged.verdict is Verdict.FAULT
    assert judged.says == "A phase is open."
    assert ohms("open", "open", "open").verdict is Verdict.FAULT


@pytest.mark.parametrize(
    ("body", "verdict"),
    [
        ("open", Verdict.GOOD),
        (2e6, Verdict.GOOD),
        (5e4, Verdict.LOOK_FURTHER),
        (0.4, Verdict.FAULT),
    ],
)
def test_each_winding_is_open_to_the_body(body: object, verdict: Verdict) -> None:
    assert ohms(0.6, 0.6, 0.6, body_ohm=body).verdict is verdict


def test_an_unusual_stator_is_compared_with_its_maker() -> None:
    # Typically 0.1 to 1 Ω.
    assert any("maker" in r for r in ohms(3.0, 3.1, 3.1).remarks)
    assert not any("maker" in r for r in ohms(0.5, 0.5, 0.5).remarks)


@pytest.mark.parametrize(
    ("phases", "verdict"),
    [
        ((40, 41, 42), Verdict.GOOD),
        ((40, 42, 45), Verdict.LOOK_FURTHER),
        ((40, 40, 20), Verdict.FAULT),
        ((0, 0, 0), Verdict.FAULT),
    ],
)
def test_phases_give_alike_within_ten_percent(
    phases: tuple[float, float, float], verdict: Verdict
) -> None:
    assert volts(*phases).verdict is verdict


def test_a_stator_that_gives_nothing_is_said_to() -> None:
    assert volts(0, 0, 0).says == "It gives nothing at all."


@pytest.mark.parametrize("bad", [-0.1, "nan", ""])
def test_ohms_that_cannot_be_are_refused(bad: object) -> None:
    with pytest.raises(HarnessError, match="phase_bc_ohm"):
        ohms(0.6, bad, 0.6)


@given(st.tuples(*[st.floats(0.01, 1e3)] * 3), st.floats(0.01, 100))
def test_the_spread_minds_neither_order_nor_scale(
    phases: tuple[float, float, float], factor: float
) -> None:
    apart = spread_percent(phases)
    assert apart == pytest.approx(spread_percent(phases[::-1]))
    scaled = tuple(factor * one for one in phases)
    assert apart == pytest.approx(spread_percent(scaled))
