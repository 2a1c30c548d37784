"""The record of a work order's hunts, for its report."""

import pytest

from diagnostics.actions.findings import record_retest
from diagnostics.models import Finding
from diagnostics.selectors.records import case_records, unfinished_titles
from tests.builders import MORNING, UserFactory
from tests.diagnostics.builders import a_case_with_complaint, a_repaired_case

pytestmark = pytest.mark.django_db


def test_the_record_runs_from_complaint_to_proof() -> None:
    case = a_repaired_case()
    record_retest(
        finding_id=Finding.objects.of_case(case.pk).get(sequence=1).pk,
        reads="works",
        key="again",
        acting_user=UserFactory.create(),
        at=MORNING,
    )
    (record,) = case_records(work_order_id=case.work_order_id)
    assert [finding.sequence for finding in record.findings] == [1, 2, 3, 4]
    assert record.found.step == 3
    assert record.repairs[0].segments == ("wire:5",)
    assert [(item.again, item.good) for item in record.retests] == [(4, True)]


def test_an_open_hunt_is_recorded_as_it_stands() -> None:
    case = a_case_with_complaint()
    (record,) = case_records(work_order_id=case.work_order_id)
    assert (record.found.step, record.repairs, record.retests) == (3, (), ())
    assert unfinished_titles(work_order_id=case.work_order_id) == (
        ("Horn dead", "open"),
    )


def test_a_work_order_without_a_hunt_has_no_record() -> None:
    assert case_records(work_order_id=10**15) == ()
