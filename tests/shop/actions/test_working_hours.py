"""A week at the bench is written down by those who may, with its history."""

from decimal import Decimal

import pytest

from shop.actions.working_hours import set_working_hours
from shop.domain.refusals import NotAllowed, NotFound, Refusal
from shop.models import HistoryEntry, WorkingHours
from tests.builders import MORNING, FrontDeskFactory, UserFactory

pytestmark = pytest.mark.django_db


def test_a_changed_day_is_kept_with_what_it_was_and_the_same_again_is_no_change() -> (
    None
):
    ada, desk = UserFactory(), FrontDeskFactory()
    for _ in range(2):
        set_working_hours(
            technician_id=ada.pk,
            changes={"friday": Decimal("4.50")},
            acting_user=desk,
            at=MORNING,
        )
    assert WorkingHours.objects.get(technician=ada).friday == Decimal("4.5")
    entry = HistoryEntry.objects.get(verb="working_hours.set")
    assert entry.changes == {"friday": ["6", "4.50"]}


def test_a_week_with_a_wrong_day_is_not_half_saved() -> None:
    ada, desk = UserFactory(), FrontDeskFactory()
    with pytest.raises(Refusal) as refused:
        set_working_hours(
            technician_id=ada.pk,
            changes={"monday": Decimal(3), "sunday": Decimal(-1)},
            acting_user=desk,
            at=MORNING,
        )
    assert refused.value.field == "sunday"
    assert not WorkingHours.objects.exists()


def test_a_technician_does_not_write_hours_and_a_closed_account_has_none() -> None:
    ada = UserFactory()
    with pytest.raises(NotAllowed):
        set_working_hours(technician_id=ada.pk, changes={}, acting_user=ada, at=MORNING)
    gone = UserFactory(is_active=False)
    with pytest.raises(NotFound):
        set_working_hours(
            technician_id=gone.pk,
            changes={},
            acting_user=FrontDeskFactory(),
            at=MORNING,
        )
