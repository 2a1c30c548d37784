"""What was noticed says what, where and how urgent."""

import pytest

from shop.domain.advisories import AdvisoryDetails
from shop.domain.refusals import Refusal


@pytest.mark.parametrize(
    ("what", "place", "urgency", "field"),
    [
        ("", "Rear wheel", "soon", "what"),
        ("Cracked spoke", " ", "soon", "place"),
        ("Cracked spoke", "Rear wheel", "whenever", "urgency"),
    ],
)
def test_an_advisory_that_leaves_something_out_is_refused(
    what: str, place: str, urgency: str, field: str
) -> None:
    with pytest.raises(Refusal) as refused:
        AdvisoryDetails(what=what, place=place, urgency=urgency).checked()
    assert refused.value.field == field


def test_space_around_the_words_is_taken_off() -> None:
    tidy = AdvisoryDetails(what=" Cracked ", place=" Hub ", urgency="soon").checked()
    assert (tidy.what, tidy.place) == ("Cracked", "Hub")
