"""Suppliers taken on and corrected."""

from decimal import Decimal

import pytest

from shop.actions.suppliers import add_supplier, edit_supplier
from shop.domain.refusals import NotAllowed, NotFound
from shop.domain.suppliers import SupplierDetails
from shop.models import HistoryEntry, Supplier
from tests.builders import MORNING, StorekeeperFactory, SupplierFactory, UserFactory

pytestmark = pytest.mark.django_db
PLATER = SupplierDetails(
    name="Oxbow Platers", trades=("plating",), markup_percent=Decimal(15)
)


def test_a_supplier_is_written_down_with_trades_and_mark_up() -> None:
    made = add_supplier(details=PLATER, acting_user=StorekeeperFactory(), at=MORNING)
    kept = Supplier.objects.get()
    assert (kept.pk, kept.trades, kept.markup_percent) == (
        made.pk,
        ["plating"],
        Decimal(15),
    )
    assert HistoryEntry.objects.get().verb == "supplier.added"


def test_a_technician_may_not_keep_suppliers() -> None:
    with pytest.raises(NotAllowed):
        add_supplier(details=PLATER, acting_user=UserFactory(), at=MORNING)


def test_a_correction_says_what_changed_and_none_says_nothing() -> None:
    supplier, keeper = SupplierFactory(), StorekeeperFactory()
    for changes in ({}, {"lead_days": 28, "trades": ("plating", "paint")}):
        edit_supplier(
            supplier_id=supplier.pk, changes=changes, acting_user=keeper, at=MORNING
        )
    supplier.refresh_from_db()
    assert (supplier.lead_days, supplier.trades) == (28, ["plating", "paint"])
    (entry,) = HistoryEntry.objects.all()
    assert entry.changes["lead_days"] == ["21", "28"]


def test_an_unknown_supplier_is_refused() -> None:
    with pytest.raises(NotFound):
        edit_supplier(
            supplier_id=404, changes={}, acting_user=StorekeeperFactory(), at=MORNING
        )
