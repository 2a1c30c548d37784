"""The proof of a repair, judged against the healthy loom of the drawing."""

import pytest

from diagnostics.actions.findings import record_retest
from diagnostics.models import Case, Finding
from diagnostics.selectors.cases import case_page
from diagnostics.selectors.retests import retests_of
from tests.builders import MORNING, UserFactory
from tests.diagnostics.builders import a_case_with_complaint, a_repaired_case

pytestmark = pytest.mark.django_db


def retake(case: Case, reads: str) -> None:
    record_retest(
        finding_id=Finding.objects.of_case(case.pk).get(sequence=1).pk,
        reads=reads,
        key=f"again-{reads}",
        acting_user=UserFactory.create(),
        at=MORNING,
    )


def test_nothing_is_to_prove_before_a_repair() -> None:
    assert retests_of(a_case_with_complaint()) == ()


@pytest.mark.parametrize(
    ("reads", "good", "result"),
    [
        ("works", True, "Good: reads as a healthy loom does"),
        ("weak", False, "Still bad: not as a healthy loom reads"),
        ("dead", False, "Still bad: not as a healthy loom reads"),
    ],
)
def test_a_retest_has_a_plain_result(reads: str, good: bool, result: str) -> None:
    case = a_repaired_case()
    retake(case, reads)
    page = case_page(case_id=case.pk, viewer=UserFactory.create().as_viewer())
    (item,) = page.retests
    assert (item.healthy, item.good, item.result) == ("Works", good, result)
    assert page.proof_is_whole is good
    assert page.proof_failed is not good
    assert [value for value, _ in item.words] == ["works", "weak", "dead"]


def test_what_was_not_taken_again_says_so() -> None:
    case = a_repaired_case()
    page = case_page(case_id=case.pk, viewer=UserFactory.create().as_viewer())
    (item,) = page.retests
    assert (item.good, item.result) == (None, "Not taken again yet")
