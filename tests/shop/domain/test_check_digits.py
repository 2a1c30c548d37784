"""The digit behind a tag's number finds what goes wrong when it is copied by hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.domain.check_digits import check_digit, is_right


def test_the_published_example() -> None:
    # X27 (mem, recomputed calc): Damm 572 gives 4.
    assert check_digit(572) == 4
    assert is_right("5724")


@given(st.integers(min_value=0, max_value=10**9))
def test_a_number_with_its_digit_is_right(number: int) -> None:
    assert is_right(f"{number}{check_digit(number)}")


def test_every_wrong_digit_and_every_swap_of_neighbours_is_found() -> None:
    # All of them, for every three-digit number: Damm's quasigroup promises it.
    for number in range(100, 1000):
        whole = f"{number}{check_digit(number)}"
        for at, digit in enumerate(whole):
            for other in "0123456789":
                if other != digit:
                    assert not is_right(whole[:at] + other + whole[at + 1 :])
        for at in range(len(whole) - 1):
            if whole[at] != whole[at + 1]:
                swapped = whole[:at] + whole[at + 1] + whole[at] + whole[at + 2 :]
                assert not is_right(swapped)


def test_nothing_is_not_right_and_no_number_is_negative() -> None:
    assert not is_right("")
    with pytest.raises(ValueError, match="no check digit"):
        check_digit(-1)
