"""Rates by kind are set by the owner, and every change is told."""

from decimal import Decimal

import pytest

from shop.actions.labour_rates import set_labour_rate
from shop.domain.labour_rates import RateEntry
from shop.domain.refusals import NotAllowed, NotFound, Refusal
from shop.models import HistoryEntry, LabourRate
from tests.builders import (
    MORNING,
    FrontDeskFactory,
    OwnerFactory,
    StorekeeperFactory,
    UserFactory,
)

pytestmark = pytest.mark.django_db


def rate(
    amount: str | None, technician_id: int | None = None, kind: str = "repair"
) -> RateEntry:
    figure = None if amount is None else Decimal(amount)
    return RateEntry(kind=kind, hourly_rate=figure, technician_id=technician_id)


def test_a_rate_is_set_changed_and_taken_away() -> None:
    owner, mo = OwnerFactory(), UserFactory()
    for amount in ("58.00", "58.00", "61.50", None, None):
        set_labour_rate(entry=rate(amount, mo.pk), acting_user=owner, at=MORNING)
    assert not LabourRate.objects.exists()
    told = HistoryEntry.objects.order_by("pk").values_list("changes", flat=True)
    assert [changes["hourly_rate"] for changes in told] == [
        ["", "58.00"],
        ["58.00", "61.50"],
        ["61.50", ""],
    ]


def test_the_shop_and_each_technician_have_one_rate_a_kind() -> None:
    owner, mo = OwnerFactory(), UserFactory()
    for entry in (rate("58"), rate("60"), rate("61", mo.pk), rate("62", mo.pk)):
        set_labour_rate(entry=entry, acting_user=owner, at=MORNING)
    kept = set(LabourRate.objects.values_list("technician_id", "hourly_rate"))
    assert kept == {(None, Decimal(60)), (mo.pk, Decimal(62))}


def test_only_the_owner_sets_rates() -> None:
    for person in (FrontDeskFactory(), UserFactory()):
        with pytest.raises(NotAllowed):
            set_labour_rate(entry=rate("58"), acting_user=person, at=MORNING)


def test_a_rate_that_makes_no_sense_is_kept_nowhere() -> None:
    owner, keeper = OwnerFactory(), StorekeeperFactory()
    for entry in (rate("-1"), rate("1", kind="magic")):
        with pytest.raises(Refusal):
            set_labour_rate(entry=entry, acting_user=owner, at=MORNING)
    with pytest.raises(NotFound):
        set_labour_rate(entry=rate("58", keeper.pk), acting_user=owner, at=MORNING)
    assert not LabourRate.objects.exists()
