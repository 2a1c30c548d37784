"""Days away are entered and taken back, and history keeps both."""

from datetime import date

import pytest

from shop.actions.absences import add_absence, withdraw_absence
from shop.domain.absences import AbsenceDetails
from shop.domain.refusals import NotAllowed, NotFound, Refusal
from shop.models import Absence, HistoryEntry
from tests.builders import MORNING, FrontDeskFactory, UserFactory

pytestmark = pytest.mark.django_db
WEEK = AbsenceDetails(
    first_on=date(2026, 3, 9), last_on=date(2026, 3, 13), reason=" Course "
)


def test_days_away_are_entered_and_taken_back_with_history() -> None:
    ada, desk = UserFactory(first_name="Ada"), FrontDeskFactory()
    absence = add_absence(
        technician_id=ada.pk, details=WEEK, acting_user=desk, at=MORNING
    )
    assert (absence.reason, absence.entered_by) == ("Course", desk)
    withdraw_absence(absence_id=absence.pk, acting_user=desk, at=MORNING)
    assert not Absence.objects.exists()
    told = HistoryEntry.objects.order_by("pk").values_list("summary", flat=True)
    assert list(told) == [
        f"{ada.name} away from 2026-03-09 to 2026-03-13: entered",
        f"{ada.name} away from 2026-03-09 to 2026-03-13: taken back",
    ]
    with pytest.raises(NotFound):
        withdraw_absence(absence_id=absence.pk, acting_user=desk, at=MORNING)


def test_days_out_of_order_and_a_technicians_own_entry_are_refused() -> None:
    ada = UserFactory()
    backwards = AbsenceDetails(first_on=date(2026, 3, 9), last_on=date(2026, 3, 8))
    with pytest.raises(Refusal):
        add_absence(
            technician_id=ada.pk,
            details=backwards,
            acting_user=FrontDeskFactory(),
            at=MORNING,
        )
    with pytest.raises(NotAllowed):
        add_absence(technician_id=ada.pk, details=WEEK, acting_user=ada, at=MORNING)
    assert not Absence.objects.exists()
