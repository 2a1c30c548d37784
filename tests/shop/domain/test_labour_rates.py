"""Which rate holds: the person's before the shop's, the kind's before the rest."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.domain.labour_rates import HourlyRates, RateEntry
from shop.domain.refusals import Refusal


@pytest.mark.parametrize(
    ("person_kind", "person", "shop_kind", "holds"),
    [
        (72, 61, 70, 72),
        (None, 61, 70, 61),
        (None, None, 70, 70),
        (None, None, None, 54),
        (0, 61, 70, 0),  # an apprentice's hours for nothing are a rate as well
    ],
)
def test_the_ladder_of_rates(
    person_kind: int | None, person: int | None, shop_kind: int | None, holds: int
) -> None:
    def rate(amount: int | None) -> Decimal | None:
        return None if amount is None else Decimal(amount)

    found = HourlyRates(
        person_kind=rate(person_kind),
        person=rate(person),
        shop_kind=rate(shop_kind),
        shop=Decimal(54),
    )
    assert found.holding() == holds


@given(st.decimals(0, 500, places=2), st.decimals(0, 500, places=2))
def test_the_shops_rates_never_touch_somebody_with_a_rate_of_their_own(
    own: Decimal, shops: Decimal
) -> None:
    found = HourlyRates(person_kind=None, person=own, shop_kind=shops, shop=shops)
    assert found.holding() == own


@pytest.mark.parametrize(
    ("kind", "rate", "field"),
    [
        ("polishing", "54", "kind"),
        ("repair", "-1", "hourly_rate"),
        ("repair", "54.005", "hourly_rate"),
        ("repair", "NaN", "hourly_rate"),
    ],
)
def test_a_rate_that_cannot_be_charged_is_refused(
    kind: str, rate: str, field: str
) -> None:
    with pytest.raises(Refusal) as refused:
        RateEntry(kind=kind, hourly_rate=Decimal(rate)).checked(minor_digits=2)
    assert refused.value.field == field
