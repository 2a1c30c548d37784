"""What is append-only is so in the database too, not by good manners."""

import pytest
from django.apps import apps
from django.db import connection

APPEND_ONLY = (
    "shop.HistoryEntry",
    "shop.OdometerReading",
    "diagnostics.Finding",
    "diagnostics.FindingVoid",
    "diagnostics.Belief",
    "diagnostics.Repair",
    "diagnostics.Measurement",
    "diagnostics.MeasurementVoid",
)
IN_SQLITE = "SELECT tbl_name, sql FROM sqlite_master WHERE type = 'trigger'"
IN_POSTGRESQL = """
    SELECT event_object_table, action_timing || ' ' || event_manipulation
    FROM information_schema.triggers
"""


def guarded_events(table: str) -> set[str]:
    """Return which of UPDATE and DELETE a trigger refuses on the table."""
    with connection.cursor() as cursor:
        cursor.execute(IN_SQLITE if connection.vendor == "sqlite" else IN_POSTGRESQL)
        return {
            event
            for name, text in cursor.fetchall()
            if name == table
            for event in ("UPDATE", "DELETE")
            if f"BEFORE {event}" in " ".join(text.upper().split())
        }


@pytest.mark.django_db
@pytest.mark.parametrize("label", APPEND_ONLY)
def test_the_table_refuses_update_and_delete(label: str) -> None:
    table = apps.get_model(label)._meta.db_table
    assert guarded_events(table) == {"UPDATE", "DELETE"}


@pytest.mark.django_db
def test_the_rule_sees_a_table_without_guards() -> None:
    assert guarded_events("shop_customer") == set()
