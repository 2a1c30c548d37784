"""Rows that an action is about to change, locked where the database can."""

from typing import TypeVar

from django.db.models import Model, QuerySet

from shop.domain.lifecycle import ENDED, STATE_LABELS, State
from shop.domain.refusals import IllegalMove, NotFound
from shop.models import ShopSettings, TaxRate, WorkOrder

ModelT = TypeVar("ModelT", bound=Model)

NO_TAX = ("No tax", 0)


def locked(found: QuerySet[ModelT], *, pk: int, field: str, name: str) -> ModelT:
    """Return the row, locked until the transaction ends.

    SQLite has no row locks; its IMMEDIATE transactions let one writer in at a time.
    The lock leaves the key alone: rows that point here (a history row names its
    person) can still be written, which a full lock turns into deadlocks.

    Raises
    ------
    NotFound
        No such row.
    """
    row = found.select_for_update(no_key=True).filter(pk=pk).first()
    if row is None:
        code = f"{name.replace(' ', '-')}-not-found"
        raise NotFound(code, f"There is no such {name}.", field)
    return row


def open_work_order(work_order_id: int) -> WorkOrder:
    """Return a work order that still takes lines and words, locked.

    Raises
    ------
    NotFound
        No such work order.
    IllegalMove
        It has ended.
    """
    order = locked(
        WorkOrder.objects.all(),
        pk=work_order_id,
        field="work_order_id",
        name="work order",
    )
    state = State(order.state)
    if state in ENDED:
        raise IllegalMove(
            "work-order-ended",
            f"{order.label} is {STATE_LABELS[state].lower()}; nothing more can be "
            "written on it. Book in a new work order for further work.",
        )
    return order


def tax_for_line(tax_rate_id: int | None) -> TaxRate:
    """Return the tax of a new line: as named, else the shop's default, else none.

    Raises
    ------
    NotFound
        No such rate in use.
    """
    if tax_rate_id is None:
        default = ShopSettings.objects.current().default_tax_rate
        label, percent = NO_TAX
        return default or TaxRate(label=label, percent=percent)
    rate = TaxRate.objects.in_use().filter(pk=tax_rate_id).first()
    if rate is None:
        raise NotFound(
            "tax-rate-not-found", "There is no such tax rate in use.", "tax_rate_id"
        )
    return rate


def minor_digits() -> int:
    """Return the decimal places of the shop's currency."""
    return ShopSettings.objects.current().minor_digits
