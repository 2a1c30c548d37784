"""Age, wear and exposure, and what they do to each cause of faults."""

from collections.abc import Mapping
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from harness.errors import HarnessError
from harness.priors.circumstances import (
    AGE_TABLE,
    AGES,
    EXPOSURE_TABLE,
    EXPOSURES,
    FURTHER_TABLE,
    NEUTRAL,
    WEAR_TABLE,
    WEARS,
    Age,
    Circumstances,
    Exposure,
    Wear,
)
from harness.priors.rates import Cause

CAUSES: tuple[Cause, ...] = get_args(Cause)
TABLES = (AGE_TABLE, WEAR_TABLE, EXPOSURE_TABLE)


def test_knowing_nothing_changes_nothing() -> None:
    assert Circumstances() == NEUTRAL
    for cause in CAUSES:
        assert NEUTRAL.times(cause, ["tail"]) == 1.0
    assert NEUTRAL.further_times == 1.0


def test_an_old_loom_of_usual_wear_is_what_the_rates_are_for() -> None:
    told = Circumstances(age_years=45.0, wear="usual", exposure={"tail": "usual"})
    assert [told.times(cause, ["tail"]) for cause in CAUSES] == [1.0] * len(CAUSES)


@pytest.mark.parametrize(
    ("years", "word"),
    [
        (0.0, "new"),
        (4.9, "new"),
        (5.0, "settled"),
        (20.0, "old"),
        (59.9, "old"),
        (60.0, "very old"),
        (110.0, "very old"),
        (None, "old"),
    ],
)
def test_an_age_has_its_word(years: float | None, word: Age) -> None:
    assert Circumstances(age_years=years).age == word


@pytest.mark.parametrize("cause", ["corroding", "breaking", "chafing"])
def test_what_ages_never_fails_less_often_for_being_older(cause: Cause) -> None:
    times = [Circumstances(age_years=y).times(cause) for y in (1.0, 10.0, 40.0, 80.0)]
    assert times == sorted(times)
    assert times[0] < times[-1]


@pytest.mark.parametrize("cause", ["wearing", "breaking", "chafing"])
def test_what_wears_fails_more_often_with_wear(cause: Cause) -> None:
    times = [Circumstances(wear=wear).times(cause) for wear in WEARS]
    assert times == sorted(times)
    assert times[0] < times[-1]


def test_wet_places_corrode_flexing_ones_break_and_hot_ones_burn() -> None:
    # Common practice, no source.
    told = Circumstances(exposure={"tail": "wet", "headstock": "flexing", "box": "hot"})
    assert told.times("corroding", ["tail"]) > 2
    assert told.times("breaking", ["headstock"]) > 2
    assert told.times("burning", ["box"]) > 1
    assert told.times("corroding", ["headstock"]) == 1.0
    assert Circumstances(exposure={"tail": "dry"}).times("corroding", ["tail"]) < 1


def test_what_runs_between_two_places_fails_in_the_worse() -> None:
    told = Circumstances(exposure={"tail": "wet", "tray": "dry"})
    both = told.times("corroding", ["tray", "tail"])
    assert both == told.times("corroding", ["tail"])
    assert told.times("corroding", ["tray", "elsewhere"]) == 1.0


words = st.sampled_from(EXPOSURES)


@given(
    years=st.floats(0, 150),
    wear=st.sampled_from(WEARS),
    exposure=st.dictionaries(st.sampled_from(["a", "b", "c"]), words),
    cause=st.sampled_from(CAUSES),
)
def test_no_circumstances_make_a_fault_impossible_or_certain(
    years: float, wear: Wear, exposure: Mapping[str, Exposure], cause: Cause
) -> None:
    told = Circumstances(years, wear, exposure)
    assert 0.05 < told.times(cause, ["a", "b"]) < 20
    assert 0.2 < told.further_times < 4


def test_age_and_wear_bring_more_faults_at_a_time() -> None:
    new = Circumstances(age_years=2.0, wear="little").further_times
    worn = Circumstances(age_years=80.0, wear="heavy").further_times
    assert new < 1 < worn


def test_each_row_names_a_word_and_has_its_reason() -> None:
    said = {row.word for table in TABLES for row in table}
    assert said == {*get_args(Age), *WEARS, *EXPOSURES} - {"old", "usual"}
    assert [word for _, word in AGES] == list(reversed(get_args(Age)))
    for table in TABLES:
        assert len({(row.word, row.cause) for row in table}) == len(table)
        for row in table:
            assert row.times > 0
            assert row.times != 1
            assert row.reason.endswith(".")
    assert all(row.reason.endswith(".") and row.times != 1 for row in FURTHER_TABLE)


@pytest.mark.parametrize(
    ("age_years", "wear", "exposure", "where"),
    [
        (-1.0, "usual", {}, "age_years"),
        (float("nan"), "usual", {}, "age_years"),
        (1964.0, "usual", {}, "age_years"),
        (None, "worn", {}, "wear"),
        (None, "usual", {"tail": "damp"}, "exposure.tail"),
    ],
)
def test_words_and_years_that_cannot_be_are_refused(
    age_years: float | None, wear: Wear, exposure: Mapping[str, Exposure], where: str
) -> None:
    with pytest.raises(HarnessError) as caught:
        Circumstances(age_years, wear, exposure)
    assert [problem.where for problem in caught.value.problems] == [where]
    assert all(problem.mend for problem in caught.value.problems)


def test_what_was_told_cannot_be_changed_afterwards() -> None:
    exposure: dict[str, Exposure] = {"tail": "wet"}
    told = Circumstances(exposure=exposure)
    exposure["tail"] = "dry"
    assert told.exposure == {"tail": "wet"}
