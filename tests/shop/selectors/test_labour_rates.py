"""Rates as the owner sees them: what is set, and what holds in the end."""

from decimal import Decimal

import pytest
from pytest_django import DjangoAssertNumQueries

from shop.actions.labour_rates import set_labour_rate
from shop.domain.labour_rates import RateEntry
from shop.domain.refusals import NotAllowed
from shop.selectors.labour_rates import labour_rates
from tests.builders import (
    MORNING,
    FrontDeskFactory,
    OwnerFactory,
    ShopSettingsFactory,
    StorekeeperFactory,
    UserFactory,
)

pytestmark = pytest.mark.django_db


def test_each_hour_shows_what_is_set_and_what_holds() -> None:
    ShopSettingsFactory(hourly_rate=Decimal("54.00"))
    owner = OwnerFactory(first_name="Maud")
    mo = UserFactory(first_name="Mo", hourly_rate=Decimal("61.00"))
    StorekeeperFactory()
    for kind, rate, who in (("check", "40", None), ("service", "45", mo.pk)):
        entry = RateEntry(kind=kind, hourly_rate=Decimal(rate), technician_id=who)
        set_labour_rate(entry=entry, acting_user=owner, at=MORNING)
    rows = labour_rates(viewer=owner.as_viewer())
    assert [row.name for row in rows] == ["Whoever works", "Maud", "Mo"]
    held = {row.name: {kind.kind: kind.holding for kind in row.kinds} for row in rows}
    assert [held["Maud"]["check"], held["Maud"]["repair"]] == [40, 54]
    assert [held["Mo"]["check"], held["Mo"]["service"]] == [61, 45]
    kept = {kind.kind: kind.kept for kind in rows[2].kinds}
    assert (kept["service"], kept["check"]) == (Decimal("45.00"), None)


def test_rates_are_for_the_owner_in_three_queries(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    with pytest.raises(NotAllowed):
        labour_rates(viewer=FrontDeskFactory().as_viewer())
    viewer = OwnerFactory().as_viewer()
    UserFactory.create_batch(4)
    with django_assert_num_queries(3):
        labour_rates(viewer=viewer)
