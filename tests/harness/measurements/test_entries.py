"""What is entered: numbers and words, and everything that is wrong with them."""

import math

import pytest

from harness import HarnessError
from harness.measurements.entries import Choice, Input, readings_from

VOLTS = Input(name="rest_v", label="Rest", unit="V", low=0, high=14.4, mend="look")
OHMS = Input(name="coil_ohm", label="Coil", unit="Ω", low=0, high=1e9, takes_open=True)
AMPS = Input(name="load_a", label="Load", unit="A", low=1, high=9, required=False)
SIDE = Input(
    name="side", label="Side", choices=(Choice("feed", "Feed"), Choice("r", "Return"))
)


def problems(inputs: tuple[Input, ...], given: dict[str, object]) -> list[str]:
    with pytest.raises(HarnessError) as refused:
        readings_from(inputs, given)
    return [str(problem) for problem in refused.value.problems]


@pytest.mark.parametrize("typed", [12.4, "12.4", "12,4", " 12,4 "])
def test_a_number_may_be_typed_with_comma_or_point(typed: object) -> None:
    assert readings_from((VOLTS,), {"rest_v": typed}).number("rest_v") == 12.4


@pytest.mark.parametrize("typed", ["open", "OPEN", "2e6"])
def test_no_path_is_infinite_ohms_and_so_is_more_than_a_megohm(typed: str) -> None:
    assert readings_from((OHMS,), {"coil_ohm": typed}).number("coil_ohm") == math.inf


def test_only_ohms_can_be_open() -> None:
    assert problems((VOLTS,), {"rest_v": "open"}) == [
        "rest_v: 'open' is not a reading; enter a number"
    ]


@pytest.mark.parametrize("typed", ["", "   ", None])
def test_what_may_be_left_out_is_not_there(typed: object) -> None:
    assert readings_from((AMPS,), {"load_a": typed}).maybe("load_a") is None


@pytest.mark.parametrize(
    "typed", [math.nan, math.inf, -math.inf, "nan", "inf", "12.4.1", "twelve"]
)
def test_what_is_no_number_is_refused(typed: object) -> None:
    assert problems((VOLTS,), {"rest_v": typed})[0].endswith("enter a number")


@pytest.mark.parametrize("typed", [None, "", True, False])
def test_a_reading_that_must_be_there_is_asked_for(typed: object) -> None:
    assert problems((VOLTS,), {"rest_v": typed}) == [
        "rest_v: no reading was given; enter it in V"
    ]


def test_what_cannot_be_true_is_refused_with_the_span_and_what_mends_it() -> None:
    assert problems((VOLTS,), {"rest_v": "124"}) == [
        "rest_v: 124 V cannot be true, only 0 to 14.4 V can; look"
    ]
    assert problems((AMPS,), {"load_a": 0.5}) != []


def test_a_word_is_one_of_the_choices() -> None:
    assert readings_from((SIDE,), {"side": "feed"}).word("side") == "feed"
    assert problems((SIDE,), {"side": "left"}) == [
        "side: 'left' is none of the choices; choose feed, r"
    ]
    assert problems((SIDE,), {}) == ["side: nothing was chosen; choose feed, r"]


def test_everything_that_is_wrong_is_said_in_one_go() -> None:
    given: dict[str, object] = {"rest_v": "x", "load_a": 100, "odd": 1}
    found = problems((VOLTS, AMPS, SIDE), given)
    assert [line.partition(":")[0] for line in found] == [
        "odd",
        "rest_v",
        "load_a",
        "side",
    ]
