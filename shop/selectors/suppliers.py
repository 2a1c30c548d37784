"""Suppliers: the list, and one with what it has of ours."""

from dataclasses import dataclass
from decimal import Decimal

from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer
from shop.domain.suppliers import TRADE_LABELS, Trade
from shop.models import Supplier
from shop.selectors.windows import FIRST_ROWS, Listing, Window, listing


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplierRow:
    """One supplier."""

    id: int
    name: str
    contact: str
    phone: str
    email: str
    address: str
    trades: tuple[str, ...]
    trades_text: str
    lead_days: int | None
    markup_percent: Decimal
    notes: str
    is_retired: bool


def supplier_list(
    *,
    viewer: Viewer,
    search: str = "",
    retired_too: bool = False,
    window: Window = FIRST_ROWS,
) -> Listing[SupplierRow]:
    """Return the suppliers that hold every word of the search, by name."""
    viewer.demand(Act.SEE_SHOP)
    found = Supplier.objects.matching(search)
    if not retired_too:
        found = found.in_use()
    return listing(found.by_name(), window=window, row=supplier_row)


def suppliers_in_use() -> tuple[SupplierRow, ...]:
    """Return those that new work may go to, by name."""
    return tuple(supplier_row(row) for row in Supplier.objects.in_use().by_name())


def supplier_page(*, supplier_id: int, viewer: Viewer) -> SupplierRow:
    """Return one supplier.

    Raises
    ------
    NotFound
        No such supplier.
    """
    viewer.demand(Act.SEE_SHOP)
    supplier = Supplier.objects.filter(pk=supplier_id).first()
    if supplier is None:
        raise NotFound("supplier-not-found", "There is no such supplier.")
    return supplier_row(supplier)


def supplier_row(supplier: Supplier) -> SupplierRow:
    """Return a supplier as a row."""
    labels = [TRADE_LABELS[Trade(trade)] for trade in supplier.trades]
    return SupplierRow(
        id=supplier.pk,
        name=supplier.name,
        contact=supplier.contact,
        phone=supplier.phone,
        email=supplier.email,
        address=supplier.address,
        trades=tuple(supplier.trades),
        trades_text=", ".join(labels),
        lead_days=supplier.lead_days,
        markup_percent=supplier.markup_percent,
        notes=supplier.notes,
        is_retired=supplier.is_retired,
    )
