"""How likely a reading is: thresholds of the contract, widths of our own."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from harness.likelihood import (
    AMP_SHARE,
    AMP_WIDTH,
    BLUNDER_CLAMP,
    BLUNDER_EYE,
    BLUNDER_LAMP,
    BLUNDER_METER,
    WIDEST_A,
    WIDEST_V_RATIO,
    amp_density,
    amp_scale,
    amp_width,
    eye_chances,
    fuse_chances,
    lamp_chances,
    ohm_density,
    ohm_scale,
    share_of_best,
    volt_density,
    volt_scale,
    volt_width,
)


def lamp_word(volts: float, nominal_v: float = 12.0) -> str:
    chances = lamp_chances(np.array([volts]), nominal_v)[:, 0]
    return ("lit", "dim", "dark")[int(chances.argmax())]


def eye_word(share: float) -> str:
    chances = eye_chances(np.array([share]))[:, 0]
    return ("works", "weak", "dead")[int(chances.argmax())]


@pytest.mark.parametrize(
    ("volts", "word"),
    # Contract section 3: lit at 75 % of nominal across it or more, dark under 25 %.
    [
        (12.6, "lit"),
        (9.1, "lit"),
        (8.9, "dim"),
        (3.1, "dim"),
        (2.9, "dark"),
        (0, "dark"),
    ],
)
def test_a_test_lamp_is_lit_dim_or_dark_by_its_volts(volts: float, word: str) -> None:
    assert lamp_word(volts) == word
    assert lamp_word(-volts) == word, "a lamp does not care which way round it is"
    assert lamp_word(volts / 2, nominal_v=6.0) == word


@pytest.mark.parametrize(
    ("share", "word"),
    # Contract section 3: works at 85 % of its healthy voltage or more, dead under 40 %.
    [(1.0, "works"), (0.86, "works"), (0.84, "weak"), (0.41, "weak"), (0.39, "dead")],
)
def test_a_consumer_works_is_weak_or_dead_by_its_share(share: float, word: str) -> None:
    assert eye_word(share) == word


@given(st.floats(-30, 30))
def test_the_words_of_a_lamp_are_all_that_can_be_said(volts: float) -> None:
    chances = lamp_chances(np.array([volts]), 12.0)
    assert float(chances.sum()) == pytest.approx(1.0)
    assert float(chances.min()) >= BLUNDER_LAMP / 3 - 1e-12


@given(st.floats(0, 2))
def test_the_words_of_the_eye_are_all_that_can_be_said(share: float) -> None:
    chances = eye_chances(np.array([share]))
    assert float(chances.sum()) == pytest.approx(1.0)
    assert float(chances.min()) >= BLUNDER_EYE / 3 - 1e-12


def test_where_nothing_is_known_each_word_is_as_likely() -> None:
    nothing = np.array([np.nan])
    assert lamp_chances(nothing, 12.0)[:, 0] == pytest.approx([1 / 3] * 3)
    assert eye_chances(nothing)[:, 0] == pytest.approx([1 / 3] * 3)
    assert fuse_chances(nothing)[:, 0] == pytest.approx([0.5, 0.5])


def test_a_fuse_is_seldom_misread() -> None:
    intact, blown = fuse_chances(np.array([0.0, 1.0])).T
    assert intact == pytest.approx([1 - BLUNDER_EYE / 2, BLUNDER_EYE / 2])
    assert blown == pytest.approx(intact[::-1])
    # An estimate may overshoot; chances stay chances.
    below, above = fuse_chances(np.array([-0.2, 1.2])).T
    assert (list(below), list(above)) == (list(intact), list(blown))


@pytest.mark.parametrize("volts", [0.0, 0.5, 6.3, 12.6, -12.6])
def test_a_voltmeter_s_density_sums_to_one_and_peaks_where_it_should(
    volts: float,
) -> None:
    nominal_v = 12.0
    half = WIDEST_V_RATIO * nominal_v / 2
    reads = np.linspace(-half, half, 20001)
    density = np.array(
        [float(volt_density(float(r), np.array([volts]), nominal_v)[0]) for r in reads]
    )
    assert float(np.trapezoid(density, reads)) == pytest.approx(1.0, abs=0.01)
    assert float(reads[density.argmax()]) == pytest.approx(volts, abs=2 * half / 20000)
    assert float(density.min()) > 0, "a blunder can read anything"


def test_a_voltmeter_is_as_good_as_a_share_of_its_reading_and_a_little() -> None:
    assert volt_width(np.array([0.0, 12.0, -12.0])) == pytest.approx([0.02, 0.26, 0.26])


def test_an_unknown_voltage_makes_every_reading_alike() -> None:
    at = [float(volt_density(r, np.array([np.nan]), 12.0)[0]) for r in (0.0, 5.0, 12.6)]
    assert at == pytest.approx([1 / (WIDEST_V_RATIO * 12)] * 3)


def test_a_clamp_is_good_to_a_share_of_its_reading_and_a_little() -> None:
    # 0.05 A and 3 %: a workshop's d.c. clamp; common practice, no source.
    widths = amp_width(np.array([0.0, 10.0, -10.0]))
    assert widths == pytest.approx([0.05, 0.35, 0.35])
    assert (AMP_WIDTH, AMP_SHARE) == (0.05, 0.03)


@pytest.mark.parametrize("amps", [0.0, 0.25, 2.5, -2.5, 80.0])
def test_a_clamp_s_density_sums_to_one_and_peaks_where_it_should(amps: float) -> None:
    near = np.linspace(amps - 25, amps + 25, 20001)
    grown = np.geomspace(1e-3, WIDEST_A, 20001)
    reads = np.unique(np.concatenate([near, grown, -grown, [0.0]]))
    density = np.array(
        [float(amp_density(float(r), np.array([amps]))[0]) for r in reads]
    )
    assert float(np.trapezoid(density, reads)) == pytest.approx(1.0, abs=0.002)
    assert float(reads[density.argmax()]) == pytest.approx(amps, abs=0.01)
    assert float(density.min()) > 0, "a blunder can read anything"


def test_a_clamp_tells_which_way_a_current_runs() -> None:
    right, wrong = amp_density(2.5, np.array([2.5, -2.5]))
    assert right > 100 * wrong


def test_a_clamp_on_the_wrong_wire_is_a_blunder_and_no_more() -> None:
    # Read where nothing was to flow: as likely as a blunder, however far off.
    for read in (4.0, 40.0):
        at = float(amp_density(read, np.array([0.0]))[0])
        unknown = float(amp_density(read, np.array([np.nan]))[0])
        assert at == pytest.approx(BLUNDER_CLAMP * unknown)


@pytest.mark.parametrize(("low", "high"), [(0.0, 0.05), (2.5, 2.6), (-41.0, -40.0)])
def test_a_step_of_the_ampere_scale_is_about_a_width_anywhere(
    low: float, high: float
) -> None:
    steps = float(amp_scale(np.array(high)) - amp_scale(np.array(low)))
    width = float(amp_width(np.array((low + high) / 2)))
    assert steps == pytest.approx((high - low) / width, rel=0.02)


def test_open_is_a_word_of_its_own_to_an_ohmmeter() -> None:
    shown = np.array([0.0, 4.8, np.inf])
    read_open, read_some = ohm_density(np.inf, shown), ohm_density(4.9, shown)
    assert read_open == pytest.approx(
        [BLUNDER_METER / 2, BLUNDER_METER / 2, 1 - BLUNDER_METER / 2]
    )
    assert int(read_some.argmax()) == 1
    assert read_some[2] < 1e-3


def test_leads_and_touch_add_to_what_an_ohmmeter_reads() -> None:
    # A dead short reads a tenth or two of an ohm; that says nothing against it.
    good = ohm_density(0.15, np.array([0.0]))[0]
    assert good > 0.5 * ohm_density(0.0, np.array([0.0]))[0]
    assert ohm_density(3.0, np.array([0.0]))[0] < 0.01


@pytest.mark.parametrize(
    ("low", "high"), [(0.0, 0.3), (5.0, 5.5), (12.0, 12.7), (-12.7, -12.0)]
)
def test_a_step_of_the_volt_scale_is_about_a_width_anywhere(
    low: float, high: float
) -> None:
    steps = float(volt_scale(np.array([high]))[0] - volt_scale(np.array([low]))[0])
    width = float(volt_width(np.array([(low + high) / 2]))[0])
    assert steps == pytest.approx((high - low) / width, rel=0.5)


@given(st.lists(st.floats(0, 1e7), min_size=2, max_size=9))
def test_the_ohm_scale_keeps_order(ohms: list[float]) -> None:
    ordered = np.array(sorted(ohms))
    assert (np.diff(ohm_scale(ordered)) >= 0).all()


def test_shares_of_the_best_explanation() -> None:
    logs = np.log(np.array([0.5, 0.25, 1e-300]))
    assert share_of_best(logs)[:2] == pytest.approx([1.0, 0.5])
    assert share_of_best(logs, np.array([1, 2]))[1] == pytest.approx(1.0)
