"""From when to when a bike was whose."""

from datetime import date

import pytest

from shop.domain.ownerships import Handing
from shop.domain.refusals import Refusal

TODAY = date(2026, 3, 2)


def test_without_a_day_it_is_today() -> None:
    assert Handing().checked(today=TODAY, since=None).on == TODAY


def test_bought_and_sold_on_the_same_day_is_possible() -> None:
    assert Handing(on=TODAY).checked(today=TODAY, since=TODAY).on == TODAY


@pytest.mark.parametrize(
    ("on", "code"),
    [
        (date(2026, 3, 3), "handing-in-future"),
        (date(2026, 2, 1), "handing-before-owner"),
    ],
)
def test_a_day_outside_the_owners_time_is_refused(on: date, code: str) -> None:
    with pytest.raises(Refusal) as refused:
        Handing(on=on).checked(today=TODAY, since=date(2026, 2, 2))
    assert refused.value.code == code
