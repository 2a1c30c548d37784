"""Refusals carry code, message and field."""

import pytest

from shop.domain.refusals import (
    ConcurrentChange,
    IllegalMove,
    NotAllowed,
    NotFound,
    Refusal,
)


@pytest.mark.parametrize("kind", [ConcurrentChange, IllegalMove, NotAllowed, NotFound])
def test_every_kind_of_refusal_can_be_caught_as_one(kind: type[Refusal]) -> None:
    with pytest.raises(Refusal, match="Say why"):
        raise kind("reason-missing", "Say why.", "reason")


def test_a_refusal_shows_all_of_itself_in_a_log() -> None:
    refusal = NotFound("bike-not-found", "There is no such bike.", "bike_id")
    assert repr(refusal) == (
        "NotFound('bike-not-found', 'There is no such bike.', 'bike_id')"
    )
    assert str(refusal) == "There is no such bike."
