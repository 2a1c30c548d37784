"""Days away as they are read."""

import pytest

from shop.domain.refusals import NotFound
from shop.models import Absence
from shop.selectors.absences import absence
from tests.builders import MORNING, StorekeeperFactory, UserFactory
from tests.shop.plan_room import FIRST

pytestmark = pytest.mark.django_db


def test_days_away_are_told_with_whose_they_are() -> None:
    ada, keeper = UserFactory(first_name="Ada"), StorekeeperFactory()
    made = Absence.objects.create(
        technician=ada,
        first_on=FIRST,
        last_on=FIRST,
        entered_by=ada,
        created_at=MORNING,
    )
    row = absence(absence_id=made.pk, viewer=keeper.as_viewer())
    assert (row.technician_name, row.first_on) == (ada.name, FIRST)
    with pytest.raises(NotFound):
        absence(absence_id=made.pk + 1, viewer=keeper.as_viewer())
