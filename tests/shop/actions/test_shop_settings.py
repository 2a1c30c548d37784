"""The shop's settings are changed by the owner."""

from decimal import Decimal

import pytest

from shop.actions.shop_settings import edit_shop_settings
from shop.domain.refusals import NotAllowed, NotFound, Refusal
from shop.models import HistoryEntry, ShopSettings
from tests.builders import (
    MORNING,
    FrontDeskFactory,
    LabourLineFactory,
    OwnerFactory,
    TaxRateFactory,
)

pytestmark = pytest.mark.django_db


def test_the_first_change_writes_the_one_row() -> None:
    tax = TaxRateFactory()
    edit_shop_settings(
        changes={
            "name": "The Lamp Room",
            "hourly_rate": Decimal("54.00"),
            "default_tax_rate_id": tax.pk,
            "time_zone": "Europe/London",
        },
        acting_user=OwnerFactory(),
        at=MORNING,
    )
    row = ShopSettings.objects.get()
    assert (row.pk, row.name, row.default_tax_rate) == (1, "The Lamp Room", tax)
    assert set(HistoryEntry.objects.get().changes) == {
        "name",
        "hourly_rate",
        "default_tax_rate_id",
        "time_zone",
    }


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"time_zone": "Nowhere/Else"}, "time_zone"),
        ({"time_zone": "../etc/passwd"}, "time_zone"),
        ({"currency": "pounds"}, "currency"),
        ({"default_tax_rate_id": 404}, "tax_rate_id"),
    ],
)
def test_a_setting_that_makes_no_sense_changes_nothing(
    changes: dict[str, object], field: str
) -> None:
    with pytest.raises(Refusal) as refused:
        edit_shop_settings(changes=changes, acting_user=OwnerFactory(), at=MORNING)
    assert refused.value.field == field
    assert not HistoryEntry.objects.exists()


def test_the_currency_is_fixed_once_something_has_a_price() -> None:
    owner = OwnerFactory()
    edit_shop_settings(
        changes={"currency": "JPY", "minor_digits": 0}, acting_user=owner, at=MORNING
    )
    LabourLineFactory()
    with pytest.raises(Refusal) as refused:
        edit_shop_settings(changes={"minor_digits": 2}, acting_user=owner, at=MORNING)
    assert refused.value.code == "currency-fixed"


def test_a_retired_rate_is_no_default() -> None:
    old = TaxRateFactory(is_retired=True)
    with pytest.raises(NotFound):
        edit_shop_settings(
            changes={"default_tax_rate_id": old.pk},
            acting_user=OwnerFactory(),
            at=MORNING,
        )


def test_the_front_desk_sets_nothing() -> None:
    with pytest.raises(NotAllowed):
        edit_shop_settings(
            changes={"name": "Mine"}, acting_user=FrontDeskFactory(), at=MORNING
        )
