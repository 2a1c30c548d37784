"""Tax rates are taken into use and retired, never edited."""

from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from shop.actions.tax_rates import add_tax_rate, retire_tax_rate
from shop.domain.refusals import Refusal
from shop.models import TaxRate
from tests.builders import (
    MORNING,
    OwnerFactory,
    PartFactory,
    ShopSettingsFactory,
    TaxRateFactory,
)

pytestmark = pytest.mark.django_db


def test_a_rate_is_taken_into_use() -> None:
    rate = add_tax_rate(
        label="Reduced", percent=Decimal("5.5"), acting_user=OwnerFactory(), at=MORNING
    )
    rate.refresh_from_db()
    assert str(rate) == "Reduced (5.5 %)"


@pytest.mark.parametrize("percent", ["-1", "100.1", "NaN", "5.0001"])
def test_what_is_no_percentage_is_refused(percent: str) -> None:
    with pytest.raises(Refusal) as refused:
        add_tax_rate(
            label="Odd",
            percent=Decimal(percent),
            acting_user=OwnerFactory(),
            at=MORNING,
        )
    assert refused.value.field == "percent"


def test_a_name_is_given_once() -> None:
    TaxRateFactory(label="Standard", is_retired=True)
    with pytest.raises(Refusal) as refused:
        add_tax_rate(
            label="Standard",
            percent=Decimal(21),
            acting_user=OwnerFactory(),
            at=MORNING,
        )
    assert refused.value.code == "label-taken"


def test_a_rate_that_is_still_needed_is_not_retired() -> None:
    owner = OwnerFactory()
    default = TaxRateFactory()
    ShopSettingsFactory(default_tax_rate=default)
    with pytest.raises(Refusal, match="default"):
        retire_tax_rate(tax_rate_id=default.pk, acting_user=owner, at=MORNING)
    on_a_part = PartFactory().tax_rate
    with pytest.raises(Refusal, match="1 parts"):
        retire_tax_rate(tax_rate_id=on_a_part.pk, acting_user=owner, at=MORNING)


def test_a_rate_out_of_use_is_retired() -> None:
    rate = TaxRateFactory()
    retire_tax_rate(tax_rate_id=rate.pk, acting_user=OwnerFactory(), at=MORNING)
    assert not TaxRate.objects.in_use().exists()


def test_the_database_itself_keeps_a_rate_as_it_was() -> None:
    rate = TaxRateFactory(percent=Decimal(20))
    with pytest.raises(IntegrityError), transaction.atomic():
        TaxRate.objects.filter(pk=rate.pk).update(percent=Decimal(21))
