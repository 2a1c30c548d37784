"""What can be entered about somebody of the shop."""

from decimal import Decimal

import pytest

from shop.domain.entries import altered
from shop.domain.people import PersonDetails
from shop.domain.refusals import Refusal


def details(**changes: object) -> PersonDetails:
    return altered(PersonDetails(username="mo.hale"), changes)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"username": ""}, "username"),
        ({"username": "mo hale"}, "username"),
        ({"role": "wizard"}, "role"),
        ({"email": "nowhere"}, "email"),
        ({"hourly_rate": Decimal("54.001")}, "hourly_rate"),
    ],
)
def test_an_account_that_cannot_be_opened_says_where(
    changes: dict[str, object], field: str
) -> None:
    with pytest.raises(Refusal) as refused:
        details(**changes).checked(minor_digits=2)
    assert refused.value.field == field


def test_a_rate_of_ones_own_is_kept() -> None:
    rate = Decimal("61.50")
    assert details(hourly_rate=rate).checked(minor_digits=2).hourly_rate == rate
