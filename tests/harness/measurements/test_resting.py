"""The battery at rest."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from harness import HarnessError
from harness.measurements import Judgement, System, Verdict, judge
from tests.harness.measurements.bikes import SIX, SYSTEMS, TWELVE, TWENTY_FOUR


def at_rest(
    rest_v: float, system: System = TWELVE, *, battery_c: float = 25, hours: float = 12
) -> Judgement:
    given = {"rest_v": rest_v, "battery_c": battery_c, "rested_h": hours}
    return judge("battery-rest", given, system)


def number(judgement: Judgement, name: str) -> float:
    return next(one.value for one in judgement.numbers if one.name == name)


# B1 (pub M): at 75 % by either table good, at 25 % by either flat; makers differ by
# 0.1 V, so the cases stay 0.05 V clear of the ends.
@pytest.mark.parametrize(
    ("rest_v", "verdict"),
    [
        (12.7, Verdict.GOOD),
        (12.5, Verdict.GOOD),
        (12.35, Verdict.LOOK_FURTHER),
        (12.1, Verdict.LOOK_FURTHER),
        (11.9, Verdict.FAULT),
        (0.0, Verdict.FAULT),
        (13.2, Verdict.LOOK_FURTHER),
    ],
)
def test_a_battery_of_any_volts_is_judged_by_its_cells(
    rest_v: float, verdict: Verdict
) -> None:
    for system in SYSTEMS:
        judged = at_rest(rest_v * system.volts / 12, system)
        assert judged.verdict is verdict


def test_the_judgement_names_charge_limit_and_source() -> None:
    judged = at_rest(12.32)
    assert judged.says == "About 53 to 65 % charged."
    assert judged.limit.low == 12.45
    assert judged.source.startswith("Two tables of rest voltage")
    assert "published; confidence medium" in judged.source
    assert number(judged, "gravity") == pytest.approx(1.2133, abs=1e-4)  # B3


def test_warmth_moves_the_volts_by_little() -> None:
    # From memory: about 0.2 mV for each kelvin and cell; 40 K are 48 mV on 12 V.
    cold, warm = at_rest(12.4, battery_c=-15), at_rest(12.4, battery_c=25)
    assert cold.held[0].number.value - warm.held[0].number.value == pytest.approx(0.048)


def test_a_battery_that_has_not_rested_is_neither_praised_nor_condemned() -> None:
    for rest_v in (12.7, 12.0, 13.4):
        judged = at_rest(rest_v, hours=0.5)
        assert judged.verdict is not Verdict.GOOD
        assert "Let it stand 4 h" in judged.next_step
    assert at_rest(11.99, hours=0.5).verdict is Verdict.LOOK_FURTHER


def test_two_volts_short_are_a_cell() -> None:
    assert "one cell" in at_rest(10.4).says
    assert "one cell" in at_rest(4.2, SIX).says
    assert "one cell" not in at_rest(6.0).says


def test_a_battery_of_half_the_volts_is_recognised() -> None:
    assert any("6 V battery" in remark for remark in at_rest(6.3).remarks)
    assert any("12 V battery" in r for r in at_rest(12.6, TWENTY_FOUR).remarks)
    assert not any("3 V battery" in r for r in at_rest(3.1, SIX).remarks)


def test_a_flat_battery_freezes() -> None:
    assert any("freezes" in remark for remark in at_rest(11.8, battery_c=-10).remarks)
    assert not any(
        "freezes" in remark for remark in at_rest(12.6, battery_c=-10).remarks
    )


@pytest.mark.parametrize(
    ("rest_v", "system"), [(12.6, SIX), (25.0, TWELVE), (-12.6, TWELVE), (126, TWELVE)]
)
def test_volts_of_another_system_are_refused(rest_v: float, system: System) -> None:
    with pytest.raises(HarnessError, match=f"this is a {system.volts} V bike"):
        at_rest(rest_v, system)


@pytest.mark.parametrize("battery_c", [-20.1, 50.1, 77.0])
def test_a_temperature_off_the_table_is_refused(battery_c: float) -> None:
    with pytest.raises(HarnessError, match="room temperature"):
        at_rest(12.6, battery_c=battery_c)


@given(st.floats(0, 14.3), st.floats(0, 14.3), st.floats(-20, 50))
def test_more_volts_never_mean_less_charge(
    one_v: float, other_v: float, battery_c: float
) -> None:
    low, high = sorted((one_v, other_v))
    less, more = at_rest(low, battery_c=battery_c), at_rest(high, battery_c=battery_c)
    for name in ("charge_harsh_percent", "charge_kind_percent"):
        assert number(less, name) <= number(more, name)
