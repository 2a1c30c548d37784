"""Sizes, resistances and gauges against published tables.

The ids are rows of the team's list of outside check values; the sources stand beside
each test.
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from harness.conductors import (
    CLASS_5_OHMS_PER_KM,
    at_temperature,
    awg_area_mm2,
    awg_circular_mils,
    awg_diameter_mm,
    conductor_ohms,
    continuous_amps,
    exact_factor_to_20c,
    factor_to_20c,
    ohms_per_metre,
    short_duty_amps,
    uniform_ohms,
)

FOOT_M = 0.3048


def test_awg_diameters_follow_the_definition() -> None:
    # W1, ASTM B258 (published, second-hand copy): no. 36 is 0.0050 in, 4/0 0.4600 in
    assert awg_diameter_mm(36) == pytest.approx(0.005 * 25.4)
    assert awg_diameter_mm(-3) == pytest.approx(0.46 * 25.4)
    step = awg_diameter_mm(15) / awg_diameter_mm(16)
    assert step == pytest.approx(1.1229322, rel=1e-7)


@pytest.mark.parametrize(
    ("awg", "inch", "circular_mils"),
    [
        (10, 0.1019, 10380),
        (12, 0.08081, 6530),
        (14, 0.06408, 4107),
        (16, 0.05082, 2583),
        (18, 0.04030, 1624),
        (20, 0.03196, 1022),
        (22, 0.02535, 642.5),
    ],
)
def test_awg_sizes_agree_with_a_printed_wire_table(
    awg: int, inch: float, circular_mils: float
) -> None:
    # W2, Lessons in Electric Circuits, volume I, chapter 12, wire table (published):
    # to the last printed digit
    assert awg_diameter_mm(awg) / 25.4 == pytest.approx(inch, rel=3e-4)
    assert awg_circular_mils(awg) == pytest.approx(circular_mils, rel=5e-4)


@pytest.mark.parametrize(
    ("awg", "area"),
    [
        (10, 5.261),
        (12, 3.309),
        (14, 2.081),
        (16, 1.309),
        (18, 0.823),
        (20, 0.518),
        (22, 0.326),
    ],
)
def test_awg_areas(awg: int, area: float) -> None:
    # W3, worked out from W1; row 10 is published: 0.1 %, or the last printed digit
    assert awg_area_mm2(awg) == pytest.approx(area, rel=1e-3, abs=5e-4)


@pytest.mark.parametrize(
    ("awg", "milliohm_per_m"),
    [(10, 3.277), (12, 5.211), (14, 8.286), (16, 13.17), (18, 20.95), (22, 52.96)],
)
def test_solid_awg_copper_has_the_resistance_of_annealed_copper(
    awg: int, milliohm_per_m: float
) -> None:
    # W4, worked out from W1 and IEC 60028's 1/58 ohm mm2 a metre
    ohms = uniform_ohms(awg_area_mm2(awg), 1.0)
    assert ohms * 1000 == pytest.approx(milliohm_per_m, rel=2e-3)


@pytest.mark.parametrize(
    ("area", "ohms_per_km"),
    [
        (0.5, 39.0),
        (0.75, 26.0),
        (1, 19.5),
        (1.5, 13.3),
        (2.5, 7.98),
        (4, 4.95),
        (6, 3.30),
        (10, 1.91),
        (16, 1.21),
        (25, 0.780),
        (35, 0.554),
    ],
)
def test_flexible_conductors_have_the_limits_of_class_5(
    area: float, ohms_per_km: float
) -> None:
    # W5, IEC 60228:2004 table 3, plain copper (published, four copies agree)
    assert ohms_per_metre(area) * 1000 == pytest.approx(ohms_per_km, rel=1e-12)


def test_class_5_lies_above_solid_and_stranded_conductors() -> None:
    # W5b, IEC 60228 tables 1 and 2 (published, second-hand): must be lower
    rigid = {0.5: 36.0, 0.75: 24.5, 1.0: 18.1, 1.5: 12.1, 2.5: 7.41, 4.0: 4.61, 6: 3.08}
    for area, ohms_per_km in rigid.items():
        assert ohms_per_km < ohms_per_metre(area) * 1000


def test_class_5_lies_11_to_16_percent_above_pure_copper() -> None:
    # W12, worked out from W5 and W6
    for area, _ in CLASS_5_OHMS_PER_KM:
        above = ohms_per_metre(area) / uniform_ohms(area, 1.0) - 1
        assert 0.105 <= above <= 0.165


def test_copper_warms_by_its_coefficient() -> None:
    # W6, IEC 60028 (published): 0.00393 a kelvin at 20 C
    assert at_temperature(1.0, 21) == pytest.approx(1.00393)
    assert at_temperature(2.5, 20) == 2.5


@pytest.mark.parametrize(
    ("celsius", "rounded", "exact"),
    [(20, 1.000, 1.000), (30, 0.962, 0.962), (60, 0.862, 0.864), (90, 0.781, 0.784)],
)
def test_factors_to_20_degrees(celsius: float, rounded: float, exact: float) -> None:
    # W7, IEC 60228 annex: printed table (published), forms from memory
    assert factor_to_20c(celsius) == pytest.approx(rounded, abs=6e-4)
    assert exact_factor_to_20c(celsius) == pytest.approx(exact, abs=6e-4)


@given(st.floats(-40, 120))
def test_the_exact_factor_undoes_the_coefficient(celsius: float) -> None:
    # 1 / 0.00393 = 254.45: the two forms agree to their rounding
    assert at_temperature(exact_factor_to_20c(celsius), celsius) == pytest.approx(
        1.0, rel=3e-4
    )


def test_five_metres_of_12_awg_house_wire() -> None:
    # W8, OpenStax University Physics 2, 9.3 (published): 3.31 mm2, 0.025 ohm
    area = awg_area_mm2(12)
    assert area == pytest.approx(3.31, abs=0.005)
    assert uniform_ohms(area, 5.0, ohm_mm2_per_m=0.0168) == pytest.approx(
        0.025, abs=0.0005
    )


def test_a_long_run_of_14_awg() -> None:
    # W9, Lessons in Electric Circuits I ch. 12 (published): 2 300 ft, 10.09 ohm cmil
    # a foot gives 5.651 ohm; two such runs shorted at 230 V carry 20.352 A. The book
    # takes 4 107 circular mils for the gauge.
    square_mil_mm2 = math.pi / 4 * 0.0254**2
    area = 4107 * square_mil_mm2
    assert area == pytest.approx(awg_area_mm2(14), rel=1e-3)
    resistivity = 10.09 * square_mil_mm2 / FOOT_M
    ohms = uniform_ohms(area, 2300 * FOOT_M, ohm_mm2_per_m=resistivity)
    assert ohms == pytest.approx(5.651, abs=0.0006)
    assert 230 / (2 * ohms) == pytest.approx(20.352, abs=0.002)


def test_warm_wires_drop_more() -> None:
    # W10, Lessons in Electric Circuits I ch. 12 (published), alpha 0.004041
    for celsius, load_v, wire_v in ((20, 12.5, 0.75), (35, 12.42, 0.79)):
        wire = at_temperature(15.0, celsius, alpha_per_k=0.004041)
        amps = 14 / (2 * wire + 250)
        assert amps * 250 == pytest.approx(load_v, abs=0.01)
        assert amps * wire == pytest.approx(wire_v, abs=0.01)


def test_six_volts_want_four_times_the_copper() -> None:
    # W18, Ohm's law: same watts, same share lost
    share_12 = uniform_ohms(1.0, 3.0) * (21 / 12) / 12
    share_6 = uniform_ohms(4.0, 3.0) * (21 / 6) / 6
    assert share_6 == pytest.approx(share_12)


def test_between_two_rows_the_product_goes_by_the_logarithm() -> None:
    # the house's rule, by hand: the geometric mean of 1 and 1.5 mm2 lies halfway
    middle = math.sqrt(1.0 * 1.5)
    product = (0.0195 * 1.0 + 0.0133 * 1.5) / 2
    assert ohms_per_metre(middle) == pytest.approx(product / middle)


def test_two_metres_of_a_row_of_the_table() -> None:
    # W5: 13.3 ohm a kilometre
    assert conductor_ohms(1.5, 2.0) == pytest.approx(0.0266)


def test_beyond_the_table_the_product_is_held() -> None:
    assert ohms_per_metre(0.25) == pytest.approx(2 * 0.039)
    assert ohms_per_metre(50) == pytest.approx(0.000554 * 35 / 50)


@given(st.floats(0.2, 50), st.floats(0.2, 50))
def test_a_thicker_wire_never_has_more_resistance(one: float, other: float) -> None:
    thin, thick = sorted((one, other))
    assert ohms_per_metre(thick) <= ohms_per_metre(thin) * (1 + 1e-12)


@pytest.mark.parametrize("area", [0.0, -1.0, math.nan, math.inf])
def test_no_area_no_resistance(area: float) -> None:
    with pytest.raises(ValueError, match="above zero"):
        ohms_per_metre(area)


def test_currents_by_rule_of_thumb() -> None:
    # W13, common practice, no source: 5 A a square millimetre, 10 for short spells
    assert continuous_amps(2.0) == pytest.approx(10, rel=0.2)
    assert short_duty_amps(2.0) == 2 * continuous_amps(2.0)
