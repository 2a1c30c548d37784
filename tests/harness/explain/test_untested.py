"""Why a segment is untested, and what would put it to the test."""

from tests.harness.conflict.cases import case_of
from tests.harness.explain.hunts import LIT_AT_HORN, WORKS, explained, sentences, spoken
from tests.harness.small_looms import DEAD_HORN


def test_without_findings_it_says_so_and_names_a_test() -> None:
    told = sentences("wire:5")
    assert told[0].endswith("has not been put to the test.")
    assert told[1] == "There are no findings yet."
    assert told[-1].startswith("What would put it to the test: ")


def test_findings_that_read_the_same_either_way_are_no_test_of_it() -> None:
    told = explained("wire:9", DEAD_HORN, WORKS, LIT_AT_HORN)
    step = told["steps"][1]
    assert step["sentence"] == (
        "All findings so far read the same with it open as with it sound."
    )
    assert step["findings"] == ["f1", "f2", "f3"]
    one = sentences("wire:9", WORKS)
    assert one[1] == "The finding so far reads the same with it open as with it sound."


def test_what_it_may_still_be_is_told() -> None:
    assert "How likely it is to be bad: 2 % (likeliest open)." in spoken("wire:5")


def test_the_test_named_would_really_read_otherwise() -> None:
    # Taken from its words by nothing but the solver: the advised sentence's figures.
    told = spoken("wire:9", DEAD_HORN, WORKS, LIT_AT_HORN)
    assert "With it sound: " in told
    assert "; with it open: " in told
    sound, bad = told.split("With it sound: ")[1].split("; with it open: ")
    assert sound.split(" (")[0] != bad.split(" (")[0].rstrip(".")


def test_every_untested_segment_of_the_bench_example_has_a_test() -> None:
    case = case_of(DEAD_HORN, WORKS)
    untested = [n for n, s in case.segments().items() if s["verdict"] == "untested"]
    assert untested
    for segment in untested:
        last = case.explain(segment)["steps"][-1]["sentence"]
        assert last.startswith(("What would put it", "No test on offer")), segment
