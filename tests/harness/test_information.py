"""What a test tells, in bits: published values and what must hold for any test."""

from math import log2

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as hnp

from harness.circuit import FloatArray
from harness.information import (
    clusters,
    entropy_bits,
    gain_of_groups,
    gain_of_words,
)
from harness.likelihood import BLUNDER_METER


# G10, binary symmetric channel, Cover & Thomas ch. 7 [mem H, calc H]: a test that is
# wrong with probability e both ways tells 1 - H(e) of an even question.
@pytest.mark.parametrize(
    ("error", "bits"), [(0.01, 0.9192), (0.05, 0.7136), (0.1, 0.5310), (0.2, 0.2781)]
)
def test_a_test_that_errs_tells_what_the_textbook_says(
    error: float, bits: float
) -> None:
    chances = np.array([[[1 - error], [error]], [[error], [1 - error]]])
    found = gain_of_words(chances, np.array([0.5, 0.5]))
    assert float(found[0]) == pytest.approx(bits, abs=5e-5)


def test_a_meter_that_errs_tells_the_same() -> None:
    # G10 again, the meter's own blunder spread over two groups alike: e = half of it.
    e = BLUNDER_METER / 2
    expected = 1 + e * log2(e) + (1 - e) * log2(1 - e)
    found = gain_of_groups(np.array([[0], [1]]), np.array([0.5, 0.5]))
    assert float(found[0]) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("p", "bits"),
    [
        # G4, Cover & Thomas 5.6; Cormen et al. 16.3; G5 [mem H, recomputed calc H].
        ((0.25, 0.25, 0.2, 0.15, 0.15), 2.2855),
        ((0.45, 0.13, 0.12, 0.16, 0.09, 0.05), 2.2199),
        ((0.1, 0.15, 0.3, 0.16, 0.29), 2.2047),
        ((0.1, 0.6, 0.1, 0.2), 1.571),
        ((0.05, 0.4, 0.05, 0.4, 0.1), 1.8219),
        ((1.0, 0.0), 0.0),
    ],
)
def test_entropy_is_shannon_s(p: tuple[float, ...], bits: float) -> None:
    assert float(entropy_bits(np.array(p))) == pytest.approx(bits, abs=5e-5)


weights = hnp.arrays(np.float64, st.integers(1, 8), elements=st.floats(0.001, 1.0)).map(
    lambda w: w / w.sum()
)


@st.composite
def word_tests(draw: st.DrawFn) -> tuple[FloatArray, FloatArray]:
    """Draw tests that answer in two to four words, under one to eight hypotheses."""
    weight = draw(weights)
    shape = (draw(st.integers(2, 4)), len(weight), draw(st.integers(1, 4)))
    raw = draw(hnp.arrays(np.float64, shape, elements=st.floats(0.001, 1.0)))
    return raw / raw.sum(axis=0), weight


# G15, probability theory [calc H].
@given(word_tests())
def test_no_test_tells_less_than_nothing_or_more_than_its_words_can(
    drawn: tuple[FloatArray, FloatArray],
) -> None:
    chances, weight = drawn
    gain = gain_of_words(chances, weight)
    assert float(gain.min()) >= 0.0
    assert float(gain.max()) <= log2(len(chances)) + 1e-9
    assert float(gain.max()) <= float(entropy_bits(weight)) + 1e-9


@given(word_tests())
def test_a_test_that_all_hypotheses_answer_alike_tells_nothing(
    drawn: tuple[FloatArray, FloatArray],
) -> None:
    chances, weight = drawn
    alike = np.repeat(chances[:, :1], chances.shape[1], axis=1)
    assert gain_of_words(alike, weight) == pytest.approx(0.0, abs=1e-12)


@given(weights, st.data())
def test_a_meter_never_tells_more_than_its_groups_can(
    weight: FloatArray, data: st.DataObject
) -> None:
    shape = (len(weight), 3)
    drawn = data.draw(hnp.arrays(np.float64, shape, elements=st.floats(-50, 50)))
    groups = clusters(drawn, 4.0)
    gain = gain_of_groups(groups, weight)
    count = groups.max(axis=0) + 1
    assert (gain >= 0.0).all()
    assert (gain <= np.log2(count) + 1e-9).all()
    assert float(gain.max()) <= float(entropy_bits(weight)) + 1e-9


@given(
    hnp.arrays(np.float64, (7, 2), elements=st.floats(-50, 50)), st.floats(0.1, 20.0)
)
def test_groups_are_parted_by_gaps_and_by_nothing_else(
    scaled: FloatArray, gap: float
) -> None:
    groups = clusters(scaled, gap)
    for column in range(scaled.shape[1]):
        order = np.argsort(scaled[:, column], kind="stable")
        values, labels = scaled[order, column], groups[order, column]
        assert labels[0] == 0
        for k in range(1, len(values)):
            parted = values[k] - values[k - 1] > gap
            assert labels[k] - labels[k - 1] == int(parted)


def test_what_is_not_known_goes_with_the_middle_of_the_rest() -> None:
    groups = clusters(np.array([[0.0], [np.nan], [10.0], [5.2]]), 4.0)
    assert groups[:, 0].tolist() == [0, 1, 2, 1]
    assert clusters(np.full((3, 1), np.nan), 4.0)[:, 0].tolist() == [0, 0, 0]


def test_no_hypotheses_have_no_groups() -> None:
    assert clusters(np.zeros((0, 3)), 4.0).shape == (0, 3)
