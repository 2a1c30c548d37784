"""What is waited for, in words that fit a list."""

import pytest

from shop.domain.holds import LONGEST_SUMMARY, HoldDetails, waiting_summary
from shop.domain.refusals import Refusal


def test_several_holds_stand_in_one_line() -> None:
    assert waiting_summary(["a rotor", "the tank"]) == "a rotor; the tank"


def test_a_long_line_is_cut_where_its_column_ends() -> None:
    told = waiting_summary(["a rotor from the rewinder"] * 20)
    assert len(told) == LONGEST_SUMMARY
    assert told.endswith("…")


@pytest.mark.parametrize(
    ("kind", "detail", "field"), [("weather", "rain", "kind"), ("parts", "", "detail")]
)
def test_a_hold_that_says_nothing_is_refused(
    kind: str, detail: str, field: str
) -> None:
    with pytest.raises(Refusal) as refused:
        HoldDetails(kind=kind, detail=detail).checked()
    assert refused.value.field == field
