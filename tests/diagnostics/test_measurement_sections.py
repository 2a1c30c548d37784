"""Measurements in the report of a work order."""

import pytest

from diagnostics.actions.measurements import (
    MeasurementEntry,
    record_measurement,
    void_measurement,
)
from diagnostics.measurement_sections import measurement_blocks
from diagnostics.sections import cases_sections
from shop.seams import Heading, Table
from tests.builders import MORNING, UserFactory
from tests.diagnostics.builders import a_case_with_complaint

pytestmark = pytest.mark.django_db


def test_a_case_without_measurements_has_no_table_of_them() -> None:
    assert measurement_blocks("Horn dead", ()) == []


def test_the_report_names_reading_verdict_limit_and_source() -> None:
    case = a_case_with_complaint()
    person = UserFactory.create()
    made = record_measurement(
        case_id=case.pk,
        entry=MeasurementEntry(
            kind="voltage-drop",
            readings={"stretch": "switch", "drop_v": 0.6},
        ),
        key="tap",
        acting_user=person,
        at=MORNING,
    )
    (section,) = cases_sections(work_order_id=case.work_order_id)
    assert Heading("Measurements, each held against its limit") in section.blocks
    table = _table(section.blocks)
    number, read, verdict, held = table.rows[0]
    assert number == "1"
    assert read.endswith("Voltage drop: 0.60 V")
    assert verdict.startswith("Fault: Too much is lost")
    assert "0.3 V at most" in held
    assert "(common practice)" in held

    void_measurement(
        measurement_id=made.pk, reason="Load off.", acting_user=person, at=MORNING
    )
    (section,) = cases_sections(work_order_id=case.work_order_id)
    assert _table(section.blocks).rows[0][2] == "Fault (void: Load off.)"


def _table(blocks: object) -> Table:
    assert isinstance(blocks, tuple)
    return next(
        block
        for block in blocks
        if isinstance(block, Table) and "Measurements" in block.caption
    )
