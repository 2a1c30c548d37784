"""What the bench adds to a work order: panel, report, blockers."""

import pytest

from diagnostics.actions.cases import prove_case
from diagnostics.actions.findings import record_retest
from diagnostics.actions.repairs import RepairEntry, record_repair
from diagnostics.models import Case, Finding
from diagnostics.sections import (
    cases_blockers,
    cases_panel,
    cases_sections,
    register_with,
)
from shop.seams import Caution, Heading, Paragraph, Registry, Table, registry
from tests.builders import MORNING, FrontDeskFactory, UserFactory
from tests.diagnostics.builders import (
    a_case_of_two_faults,
    a_case_with_complaint,
    a_repaired_case,
    a_work_order,
)

pytestmark = pytest.mark.django_db


def prove(case: Case) -> None:
    person = UserFactory.create()
    record_retest(
        finding_id=Finding.objects.of_case(case.pk).get(sequence=1).pk,
        reads="works",
        key="again",
        acting_user=person,
        at=MORNING,
    )
    prove_case(case_id=case.pk, acting_user=person, at=MORNING)


def test_the_shop_asks_the_bench() -> None:
    case = a_case_with_complaint()
    viewer = UserFactory.create().as_viewer()
    keys = [
        panel.key
        for panel in registry.panels(work_order_id=case.work_order_id, viewer=viewer)
    ]
    assert "bench" in keys
    register_with(Registry())


def test_the_panel_leads_to_each_hunt_and_to_a_new_one() -> None:
    case = a_case_with_complaint()
    panel = cases_panel(
        work_order_id=case.work_order_id, viewer=UserFactory.create().as_viewer()
    )
    assert panel is not None
    (row,) = panel.rows
    assert (row.label, row.mark, row.text) == ("Horn dead", "Open", "3 findings")
    assert row.href == f"/bench/{case.pk}/"
    assert panel.links[0].href == f"/bench/open/{case.work_order_id}/"


def test_who_cannot_hunt_is_offered_no_new_case() -> None:
    panel = cases_panel(
        work_order_id=a_work_order().pk, viewer=FrontDeskFactory.create().as_viewer()
    )
    assert panel is not None
    assert (panel.rows, panel.links) == ((), ())
    assert panel.empty_text


def test_an_open_or_unproven_hunt_blocks_the_work_order() -> None:
    case = a_case_with_complaint()
    (reason,) = cases_blockers(work_order_id=case.work_order_id)
    assert "“Horn dead” is open" in reason
    Case.objects.filter(pk=case.pk).update(state="repaired", repairs_made=1)
    (reason,) = cases_blockers(work_order_id=case.work_order_id)
    assert "is not proven" in reason
    Case.objects.filter(pk=case.pk).update(state="proven")
    assert list(cases_blockers(work_order_id=case.work_order_id)) == []


def test_the_report_tells_findings_verdicts_repair_proof_and_cautions() -> None:
    case = a_repaired_case()
    prove(case)
    (section,) = cases_sections(work_order_id=case.work_order_id)
    assert section.title == "Fault finding: Horn dead"
    tables = [block for block in section.blocks if isinstance(block, Table)]
    findings, verdicts, proof = tables
    assert [row[0] for row in findings.rows] == ["1", "2", "3", "4"]
    assert findings.rows[0][3] == "Dead"
    assert verdicts.rows[0][0] == "Standing feed"
    assert {row[1] for row in verdicts.rows} >= {"suspect", "sound"}
    assert proof.rows == (
        (
            "1",
            "Horn button held at PRESSED, key switch to ON. Horn",
            "Dead",
            "Works",
            "Works",
            "Good: reads as a healthy loom does",
        ),
    )
    headings = [block.text for block in section.blocks if isinstance(block, Heading)]
    assert "Repair 1" in headings
    words = [block.text for block in section.blocks if isinstance(block, Paragraph)]
    assert any("Horn earth wire broken" in text for text in words)
    cautions = [block.text for block in section.blocks if isinstance(block, Caution)]
    assert any("the negative one" in text for text in cautions)


def test_a_work_order_without_a_hunt_has_no_section() -> None:
    assert list(cases_sections(work_order_id=a_work_order().pk)) == []


def test_a_hunt_for_two_faults_names_both_and_both_are_put_right() -> None:
    person = UserFactory.create()
    case = a_case_of_two_faults(person)
    record_repair(
        case_id=case.pk,
        entry=RepairEntry(done="Both renewed.", segments=["wire:5", "wire:10"]),
        key="repair",
        acting_user=person,
        at=MORNING,
    )
    for number in (1, 2):
        finding = Finding.objects.of_case(case.pk).get(sequence=number)
        record_retest(
            finding_id=finding.pk,
            reads="works",
            key=f"again-{number}",
            acting_user=person,
            at=MORNING,
        )
    prove_case(case_id=case.pk, acting_user=person, at=MORNING)
    (section,) = cases_sections(work_order_id=case.work_order_id)
    words = [block.text for block in section.blocks if isinstance(block, Paragraph)]
    came_to = words[1]
    assert ", and at the same time: " in came_to
    assert came_to.endswith("\N{NO-BREAK SPACE}% likely.")
    put_right = next(text for text in words if text.startswith("Put right: "))
    assert "Wire 5 (brown, BN)" in put_right
    assert "Wire 10 (black with red tracer, BKRD)" in put_right
