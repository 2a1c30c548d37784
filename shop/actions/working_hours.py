"""A technician's week at the bench is written down."""

from collections.abc import Mapping
from datetime import datetime

from django.db import transaction

from shop.actions._details import details_of, put
from shop.actions._rows import locked
from shop.actions.history import Happening, record
from shop.domain.entries import altered, differences
from shop.domain.roles import Act
from shop.domain.working_hours import WeekHours
from shop.models import User, WorkingHours


@transaction.atomic
def set_working_hours(
    *,
    technician_id: int,
    changes: Mapping[str, object],
    acting_user: User,
    at: datetime,
) -> WorkingHours:
    """Change the hours of some weekdays; `changes` is by weekday.

    Raises
    ------
    Refusal
        A day would have more hours than there are.
    NotFound
        There is nobody of this number.
    """
    acting_user.demand(Act.KEEP_WORKING_HOURS)
    person = locked(
        User.objects.by_name().at_work(),
        pk=technician_id,
        field="technician_id",
        name="person",
    )
    row, is_new = WorkingHours.objects.get_or_create(technician=person)
    old = details_of(row, WeekHours)
    new = altered(old, changes).checked()
    found = differences(old, new)
    put(row, new, found)
    if found or is_new:
        record(
            Happening(
                verb="working_hours.set",
                kind="working_hours",
                subject_id=person.pk,
                summary=f"Hours of {person.name} at the bench changed",
                changes=found,
            ),
            acting_user=acting_user,
            at=at,
        )
    return row
