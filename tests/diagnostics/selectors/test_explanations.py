"""Why a segment has its verdict: sentences that name their findings."""

import pytest

from diagnostics.actions.voids import void_finding
from diagnostics.models import Finding
from diagnostics.selectors.cases import case_page
from diagnostics.selectors.explanations import explanation_page
from shop.domain.refusals import NotFound
from tests.builders import MORNING, UserFactory
from tests.diagnostics.builders import a_case_with_complaint, a_repaired_case

pytestmark = pytest.mark.django_db


def test_the_verdict_is_the_one_of_the_bench() -> None:
    person = UserFactory.create()
    case = a_case_with_complaint(person)
    viewer = person.as_viewer()
    page = case_page(case_id=case.pk, viewer=viewer)
    for stretch in page.belief.stretches:
        for view in stretch.segments[:3]:
            found = explanation_page(
                case_id=case.pk, segment=view.segment, viewer=viewer
            ).explanation
            assert (found.label, found.verdict) == (view.label, view.verdict)
            assert found.percent == view.percent
            assert len(found.steps) >= 2


def test_the_findings_of_a_sentence_are_parts_of_it() -> None:
    person = UserFactory.create()
    case = a_case_with_complaint(person)
    found = explanation_page(
        case_id=case.pk, segment="wire:5", viewer=person.as_viewer()
    ).explanation
    assert found.verdict == "suspect"
    for step in found.steps:
        assert "".join(part.text for part in step.parts) == step.sentence
        assert "inding finding" not in step.sentence
        named = {part.finding for part in step.parts if part.finding}
        assert named <= set(step.findings)
    assert any(part.finding == 1 for step in found.steps for part in step.parts)


def test_after_a_repair_it_tells_of_the_loom_before_it() -> None:
    person = UserFactory.create()
    case = a_repaired_case(person)
    viewer = person.as_viewer()
    page = case_page(case_id=case.pk, viewer=viewer)
    assert [finding.sequence for finding in page.standing] == [1, 2, 3]
    found = explanation_page(case_id=case.pk, segment="wire:5", viewer=viewer)
    assert found.explanation.verdict == "suspect"


def test_a_voided_finding_explains_nothing() -> None:
    person = UserFactory.create()
    case = a_case_with_complaint(person)
    horn = Finding.objects.of_case(case.pk).get(sequence=1)
    void_finding(
        finding_id=horn.pk, reason="Fuse was out.", acting_user=person, at=MORNING
    )
    page = case_page(case_id=case.pk, viewer=person.as_viewer())
    assert [finding.sequence for finding in page.standing] == [2, 3]


def test_a_segment_that_the_drawing_lacks_is_not_found() -> None:
    person = UserFactory.create()
    case = a_case_with_complaint(person)
    with pytest.raises(NotFound, match="no segment"):
        explanation_page(case_id=case.pk, segment="wire:99", viewer=person.as_viewer())
