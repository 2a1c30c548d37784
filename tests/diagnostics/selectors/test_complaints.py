"""The complaint form: each consumer once, under the rig it is tried in."""

import pytest

from diagnostics.selectors.complaints import complaint_groups
from shop.domain.refusals import NotFound
from tests.builders import UserFactory
from tests.diagnostics.builders import HORN, a_case

pytestmark = pytest.mark.django_db


def test_consumers_stand_under_the_rig_in_which_they_work() -> None:
    case = a_case()
    groups = complaint_groups(case_id=case.pk, viewer=UserFactory.create().as_viewer())
    by_words = {group.rig_words: group for group in groups}
    horn = by_words["Horn button held at PRESSED, key switch to ON"]
    assert [(c.device, c.name, c.rig) for c in horn.consumers] == [
        ("horn", "Horn", HORN)
    ]
    devices = [c.device for group in groups for c in group.consumers]
    assert devices == ["horn", "rear-lamp.stop", "rear-lamp.tail"]


def test_there_is_no_form_for_no_case() -> None:
    with pytest.raises(NotFound):
        complaint_groups(case_id=10**15, viewer=UserFactory.create().as_viewer())
