"""The repair form offers what is suspected first."""

import pytest

from diagnostics.selectors.repairs import repair_choices
from tests.builders import UserFactory
from tests.diagnostics.builders import a_case_with_complaint

pytestmark = pytest.mark.django_db


def test_the_leading_fault_is_ticked_beforehand() -> None:
    case = a_case_with_complaint()
    choices = repair_choices(case_id=case.pk, viewer=UserFactory.create().as_viewer())
    suspected = [name for name, _ in choices.suspected]
    assert set(choices.leading_segments) <= set(suspected)
    assert choices.leading_mode
    assert "wire:5" in suspected
    others = [name for name, _ in choices.others]
    assert "fuse:main-fuse" in others
    assert not set(suspected) & set(others)
