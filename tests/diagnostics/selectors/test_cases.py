"""The bench page, the board and the replay, read in a handful of queries."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from diagnostics.actions.findings import record_finding
from diagnostics.lifecycle import Origin
from diagnostics.models import Case, Finding
from diagnostics.selectors.cases import (
    case_head,
    case_lines,
    case_page,
    cases_of_work_order,
    finding_page,
    finished_cases,
    replay_page,
    unfinished_cases,
)
from shop.domain.refusals import NotFound
from shop.selectors.windows import Window
from tests.builders import MORNING, FrontDeskFactory, UserFactory
from tests.diagnostics.builders import (
    a_case,
    a_case_with_complaint,
    a_library_file,
    a_repaired_case,
    lamp,
)

pytestmark = pytest.mark.django_db


def take(case: Case, probe: str, reads: str) -> None:
    record_finding(
        case_id=case.pk,
        entry=lamp(probe, reads),
        origin=Origin.FREE,
        key=f"{probe}-{reads}",
        acting_user=UserFactory.create(),
        at=MORNING,
    )


def test_the_bench_page_says_what_to_test_and_what_is_proven() -> None:
    case = a_case_with_complaint()
    page = case_page(case_id=case.pk, viewer=UserFactory.create().as_viewer())
    assert (page.head.title, page.head.state_label) == ("Horn dead", "Open")
    assert page.head.may_work
    assert page.belief.tests
    assert page.belief.faults[0].segments
    assert page.complaint_words == "Horn dead, 2 work"
    names = [stretch.name for stretch in page.belief.stretches]
    assert names == ["standing feed", "switched feed", "consumers", "return"]


def test_more_findings_cost_no_more_queries() -> None:
    case = a_case_with_complaint()
    viewer = UserFactory.create().as_viewer()
    case_page(case_id=case.pk, viewer=viewer)
    with CaptureQueriesContext(connection) as few:
        case_page(case_id=case.pk, viewer=viewer)
    for probe in ("horn.1", "horn.2", "key-switch.15"):
        take(case, probe, "lit")
    with CaptureQueriesContext(connection) as many:
        case_page(case_id=case.pk, viewer=viewer)
    assert len(many) == len(few) <= 5


def test_who_may_not_find_faults_may_look() -> None:
    case = a_case_with_complaint()
    head = case_head(case_id=case.pk, viewer=FrontDeskFactory.create().as_viewer())
    assert not head.may_work


def test_after_a_repair_the_page_keeps_what_led_to_it() -> None:
    case = a_repaired_case()
    page = case_page(case_id=case.pk, viewer=UserFactory.create().as_viewer())
    assert page.belief.step == 3
    assert [repair.mode_label for repair in page.repairs] == ["open"]
    assert [item.finding.sequence for item in page.retests] == [1]
    assert not page.proof_is_whole


def test_the_replay_goes_through_every_step() -> None:
    case = a_case_with_complaint()
    viewer = UserFactory.create().as_viewer()
    first = replay_page(case_id=case.pk, step=None, viewer=viewer)
    assert (first.belief.step, first.before, first.after) == (0, None, 1)
    assert first.belief.cause == "Case opened"
    last = replay_page(case_id=case.pk, step=3, viewer=viewer)
    assert (last.before, last.after) == (2, None)
    assert last.belief.cause == "Finding 3. Rear lamp (tail): Works"
    assert [step.step for step in last.steps] == [0, 1, 2, 3]
    with pytest.raises(NotFound):
        replay_page(case_id=case.pk, step=9, viewer=viewer)


def test_what_was_believed_then_is_shown_as_it_was() -> None:
    case = a_case_with_complaint()
    viewer = UserFactory.create().as_viewer()
    before = replay_page(case_id=case.pk, step=3, viewer=viewer).belief
    take(case, "horn.2", "lit")
    again = replay_page(case_id=case.pk, step=3, viewer=viewer).belief
    assert again == before


def test_the_board_shows_the_newest_first_and_what_wants_something() -> None:
    viewer = UserFactory.create().as_viewer()
    case = a_case()
    assert [line.title for line in case_lines(viewer=viewer)] == ["Horn dead"]
    assert len(unfinished_cases(viewer=viewer)) == 1
    Case.objects.filter(pk=case.pk).update(state="given-up")
    assert unfinished_cases(viewer=viewer) == ()
    assert [line.state_label for line in case_lines(viewer=viewer)] == ["Given up"]
    assert finished_cases(viewer=viewer).total == 1
    assert finished_cases(viewer=viewer, window=Window(1, 1)).rows == ()
    (line,) = cases_of_work_order(work_order_id=case.work_order_id, viewer=viewer)
    assert line.case_id == case.pk


def test_a_finding_is_shown_with_its_case() -> None:
    case = a_case_with_complaint()
    finding = Finding.objects.of_case(case.pk).get(sequence=1)
    page = finding_page(finding_id=finding.pk, viewer=UserFactory.create().as_viewer())
    assert page.head.case_id == case.pk
    assert (page.finding.where, page.finding.reading) == ("Horn", "Dead")


def test_what_is_not_there_is_not_found() -> None:
    viewer = UserFactory.create().as_viewer()
    a_library_file()
    with pytest.raises(NotFound):
        case_page(case_id=10**15, viewer=viewer)
    with pytest.raises(NotFound):
        finding_page(finding_id=10**15, viewer=viewer)
