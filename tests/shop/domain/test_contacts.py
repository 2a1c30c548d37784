"""Ways to reach somebody."""

import pytest

from shop.domain.contacts import ContactDetails
from shop.domain.refusals import Refusal


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"name": ""}, "name"),
        ({"preferred": "phone"}, "phone"),
        ({"preferred": "text_message"}, "phone"),
        ({"preferred": "email"}, "email"),
        ({"preferred": "pigeon"}, "preferred"),
        ({"preferred": "letter", "email": "jo at home"}, "email"),
    ],
)
def test_who_cannot_be_reached_so_is_refused(given: dict[str, str], field: str) -> None:
    with pytest.raises(Refusal) as refused:
        ContactDetails(**{"name": "Jo Fenn", **given}).checked()
    assert refused.value.field == field


def test_a_letter_needs_neither_number_nor_mail() -> None:
    assert ContactDetails(name="Jo Fenn", preferred="letter").checked().name
