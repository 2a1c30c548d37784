"""A belief is stored as it was concluded, with the one thing that led to it."""

import pytest
from django.db import IntegrityError, transaction

import harness
from diagnostics.actions.beliefs import hold_belief
from diagnostics.engine import Conclusion
from diagnostics.models import Belief, Finding
from tests.builders import MORNING
from tests.diagnostics.builders import a_case_with_complaint

pytestmark = pytest.mark.django_db

NOTHING = Conclusion(faults=[], segments={}, advice=[], conflict=None, isolated=None)


def test_the_engine_that_concluded_is_named() -> None:
    case = a_case_with_complaint()
    belief = hold_belief(case=case, step=99, conclusion=NOTHING, cause=None, at=MORNING)
    assert (belief.engine, belief.held_at) == (harness.__version__, MORNING)


def test_a_step_has_one_belief() -> None:
    case = a_case_with_complaint()
    with pytest.raises(IntegrityError), transaction.atomic():
        hold_belief(case=case, step=3, conclusion=NOTHING, cause=None, at=MORNING)
    assert Belief.objects.of_case(case.pk).count() == 4


def test_a_finding_leads_to_one_belief() -> None:
    case = a_case_with_complaint()
    finding = Finding.objects.of_case(case.pk).get(sequence=1)
    with pytest.raises(IntegrityError), transaction.atomic():
        hold_belief(case=case, step=99, conclusion=NOTHING, cause=finding, at=MORNING)
