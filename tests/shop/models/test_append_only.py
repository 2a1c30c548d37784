"""The database itself keeps what may not change, on SQLite and PostgreSQL."""

from decimal import Decimal

import pytest
from django.db import IntegrityError, connection, transaction
from django.db.migrations.state import ProjectState

from shop.models import HistoryEntry, LabourLine, PartLine, TaxRate
from shop.models.append_only import GuardTable, append_only, frozen_columns
from tests.builders import (
    MORNING,
    LabourLineFactory,
    PartLineFactory,
    TaxRateFactory,
    UserFactory,
    WorkOrderFactory,
)

pytestmark = pytest.mark.django_db


def an_entry() -> HistoryEntry:
    return HistoryEntry.objects.create(
        at=MORNING,
        actor_name="Mo",
        verb="work_order.edited",
        subject_kind="work_order",
        subject_id=1,
        work_order=WorkOrderFactory(),
        summary="Corrected",
    )


def test_history_is_neither_rewritten_nor_deleted() -> None:
    entry = an_entry()
    for undo in (
        lambda: HistoryEntry.objects.update(summary="Nothing happened"),
        lambda: HistoryEntry.objects.all().delete(),
        lambda: HistoryEntry.objects.filter(pk=entry.pk).update(at=MORNING),
    ):
        with pytest.raises(IntegrityError, match="append-only"), transaction.atomic():
            undo()
    entry.refresh_from_db()
    assert entry.summary == "Corrected"


def test_a_labour_line_may_be_voided_and_nothing_else() -> None:
    line, mo = LabourLineFactory(), UserFactory()
    lines = LabourLine.objects.filter(pk=line.pk)
    for undo in (
        lambda: lines.update(minutes=5),
        lambda: lines.update(hourly_rate=Decimal(1)),
        lambda: lines.update(work_order=WorkOrderFactory()),
        lines.delete,
    ):
        with pytest.raises(IntegrityError), transaction.atomic():
            undo()
    lines.update(voided_at=MORNING, voided_by=mo, void_reason="twice")
    line.refresh_from_db()
    assert (line.minutes, line.void_reason) == (50, "twice")


def test_a_part_line_keeps_its_price() -> None:
    line = PartLineFactory()
    with pytest.raises(IntegrityError), transaction.atomic():
        PartLine.objects.filter(pk=line.pk).update(price=Decimal(0))


def test_a_half_voided_line_is_refused() -> None:
    line = LabourLineFactory()
    with pytest.raises(IntegrityError), transaction.atomic():
        LabourLine.objects.filter(pk=line.pk).update(voided_at=MORNING)


def test_a_tax_rate_may_be_retired_but_not_changed() -> None:
    rate = TaxRateFactory()
    with pytest.raises(IntegrityError), transaction.atomic():
        TaxRate.objects.filter(pk=rate.pk).update(label="Other")
    TaxRate.objects.filter(pk=rate.pk).update(is_retired=True)
    rate.refresh_from_db()
    assert rate.is_retired


def test_a_guard_can_be_put_twice_and_taken_away() -> None:
    state = ProjectState()
    guard = GuardTable("shop_counter", "DELETE")
    # Entered, SQLite's editor would want to be outside the test's transaction.
    editor = connection.schema_editor(atomic=False)
    guard.database_forwards("shop", editor, state, state)
    guard.database_forwards("shop", editor, state, state)
    guard.database_backwards("shop", editor, state, state)
    with connection.cursor() as cursor:
        cursor.execute("DELETE FROM shop_counter")
    assert guard.deconstruct() == ("GuardTable", ["shop_counter", "DELETE", []], {})
    assert guard.describe() == "Guard shop_counter against DELETE (any column)"


def test_a_guard_names_only_tables_and_columns_of_ours() -> None:
    with pytest.raises(ValueError, match="no table"):
        append_only('x"; DROP TABLE shop_user; --')
    with pytest.raises(ValueError, match="no guard"):
        GuardTable("shop_counter", "INSERT")
    with pytest.raises(ValueError, match="name the columns"):
        frozen_columns("shop_counter", [])
