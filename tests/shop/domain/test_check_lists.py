"""A bike is ready when every point is answered and none is wrong."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.domain.check_lists import PASSED, Answer, check_answer, why_incomplete
from shop.domain.refusals import Refusal


def test_what_is_not_right_needs_words() -> None:
    with pytest.raises(Refusal) as refused:
        check_answer(Answer.NOT_RIGHT, "")
    assert refused.value.field == "note"


@given(st.lists(st.sampled_from(Answer)))
def test_a_list_is_complete_exactly_when_every_point_passed(
    answers: list[Answer],
) -> None:
    assert (why_incomplete(answers) == "") == all(a in PASSED for a in answers)


def test_a_wrong_point_counts_before_an_open_one() -> None:
    told = why_incomplete([Answer.OPEN, Answer.NOT_RIGHT])
    assert "1 point that is not right" in told
