"""Suppliers taken on and corrected."""

from collections.abc import Mapping
from dataclasses import asdict, replace
from datetime import datetime

from django.db import transaction

from shop.actions._details import details_of, put
from shop.actions._rows import locked
from shop.actions.history import Happening, record
from shop.domain.entries import altered, differences
from shop.domain.roles import Act
from shop.domain.suppliers import SupplierDetails
from shop.models import Supplier, User


@transaction.atomic
def add_supplier(
    *, details: SupplierDetails, acting_user: User, at: datetime
) -> Supplier:
    """Write down a supplier."""
    acting_user.demand(Act.KEEP_SUPPLIERS)
    tidy = details.checked()
    supplier = Supplier.objects.create(
        created_at=at, **{**asdict(tidy), "trades": list(tidy.trades)}
    )
    record(
        Happening(
            verb="supplier.added",
            kind="supplier",
            subject_id=supplier.pk,
            summary=f"{supplier.name} written down as a supplier",
        ),
        acting_user=acting_user,
        at=at,
    )
    return supplier


@transaction.atomic
def edit_supplier(
    *,
    supplier_id: int,
    changes: Mapping[str, object],
    acting_user: User,
    at: datetime,
) -> Supplier:
    """Correct some of a supplier's details; `changes` is by field."""
    acting_user.demand(Act.KEEP_SUPPLIERS)
    supplier = locked(
        Supplier.objects.all(), pk=supplier_id, field="supplier_id", name="supplier"
    )
    stored = details_of(supplier, SupplierDetails)
    old = replace(stored, trades=tuple(stored.trades))
    new = altered(old, changes).checked()
    found = differences(old, new)
    if not found:
        return supplier
    put(supplier, new, found)
    record(
        Happening(
            verb="supplier.edited",
            kind="supplier",
            subject_id=supplier.pk,
            summary=f"Details of {supplier.name} corrected",
            changes=found,
        ),
        acting_user=acting_user,
        at=at,
    )
    return supplier
