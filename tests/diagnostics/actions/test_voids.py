"""A finding withdrawn stays on record and no longer counts."""

import pytest

from diagnostics.actions.cases import give_up_case
from diagnostics.actions.findings import record_finding
from diagnostics.actions.voids import void_finding
from diagnostics.lifecycle import Origin
from diagnostics.models import Belief, Case, Finding, FindingVoid
from shop.domain.refusals import IllegalMove, NotAllowed, NotFound, Refusal
from shop.models import HistoryEntry
from tests.builders import MORNING, FrontDeskFactory, UserFactory
from tests.diagnostics.builders import a_case_with_complaint, lamp

pytestmark = pytest.mark.django_db


def take(case: Case, reads: str) -> Finding:
    return record_finding(
        case_id=case.pk,
        entry=lamp("horn.2", reads),
        origin=Origin.ADVISED,
        key="tap",
        acting_user=UserFactory.create(),
        at=MORNING,
    )


def void(finding: Finding, reason: str = "Wrong tap.") -> FindingVoid:
    return void_finding(
        finding_id=finding.pk,
        reason=reason,
        acting_user=UserFactory.create(),
        at=MORNING,
    )


def test_belief_goes_back_to_what_it_was_without_the_finding() -> None:
    case = a_case_with_complaint()
    before = Belief.objects.of_case(case.pk).latest("step")
    finding = take(case, "lit")
    assert Belief.objects.of_case(case.pk).latest("step").faults != before.faults
    voided = void(finding)
    after = Belief.objects.of_case(case.pk).latest("step")
    assert after.faults == before.faults
    assert after.segments == before.segments
    assert after.void == voided


def test_the_finding_itself_stays_as_it_was_taken() -> None:
    finding = take(a_case_with_complaint(), "lit")
    void(finding, "Held the probe on the wrong pin.")
    row = Finding.objects.get(pk=finding.pk)
    assert (row.reads, row.void.reason) == ("lit", "Held the probe on the wrong pin.")
    assert list(Finding.objects.counted().filter(pk=finding.pk)) == []


def test_voiding_twice_gives_back_the_first_void() -> None:
    finding = take(a_case_with_complaint(), "lit")
    assert void(finding).pk == void(finding, "Once more.").pk
    assert FindingVoid.objects.count() == 1


def test_a_void_wants_its_reason() -> None:
    finding = take(a_case_with_complaint(), "lit")
    for reason in ("", "   "):
        with pytest.raises(Refusal) as refused:
            void(finding, reason)
        assert refused.value.field == "reason"
    with pytest.raises(Refusal):
        void(finding, "x" * 401)
    assert FindingVoid.objects.count() == 0


def test_the_work_order_tells_of_the_void_and_why() -> None:
    finding = take(a_case_with_complaint(), "lit")
    void(finding, "Wrong pin.")
    entry = HistoryEntry.objects.latest_first()[0]
    assert (entry.verb, entry.reason) == ("finding.voided", "Wrong pin.")


def test_nothing_of_a_finished_case_is_voided() -> None:
    case = a_case_with_complaint()
    finding = take(case, "lit")
    person = UserFactory.create()
    give_up_case(case_id=case.pk, reason="Sold.", acting_user=person, at=MORNING)
    with pytest.raises(IllegalMove, match="Reopen"):
        void(finding)


def test_only_those_who_find_faults_void() -> None:
    finding = take(a_case_with_complaint(), "lit")
    with pytest.raises(NotAllowed):
        void_finding(
            finding_id=finding.pk,
            reason="Wrong.",
            acting_user=FrontDeskFactory.create(),
            at=MORNING,
        )
    with pytest.raises(NotFound):
        void_finding(
            finding_id=10**15,
            reason="Wrong.",
            acting_user=UserFactory.create(),
            at=MORNING,
        )
