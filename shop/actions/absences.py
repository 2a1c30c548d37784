"""Absences entered and withdrawn."""

from dataclasses import asdict
from datetime import datetime

from django.db import transaction

from shop.actions._rows import locked
from shop.actions.history import Happening, record
from shop.domain.absences import AbsenceDetails
from shop.domain.roles import Act
from shop.models import Absence, User


@transaction.atomic
def add_absence(
    *, technician_id: int, details: AbsenceDetails, acting_user: User, at: datetime
) -> Absence:
    """Enter days on which somebody is away.

    Raises
    ------
    Refusal
        The days are out of order, or more than a year.
    NotFound
        There is nobody of this number.
    """
    acting_user.demand(Act.KEEP_WORKING_HOURS)
    tidy = details.checked()
    person = locked(
        User.objects.by_name().at_work(),
        pk=technician_id,
        field="technician_id",
        name="person",
    )
    absence = Absence.objects.create(
        technician=person, entered_by=acting_user, created_at=at, **asdict(tidy)
    )
    _note(absence, "added", "entered", acting_user, at)
    return absence


@transaction.atomic
def withdraw_absence(*, absence_id: int, acting_user: User, at: datetime) -> Absence:
    """Take back days away that were entered; history keeps them.

    Raises
    ------
    NotFound
        There is no such absence.
    """
    acting_user.demand(Act.KEEP_WORKING_HOURS)
    absence = locked(
        Absence.objects.select_related("technician"),
        pk=absence_id,
        field="absence_id",
        name="absence",
    )
    _note(absence, "withdrawn", "taken back", acting_user, at)
    absence.delete()
    return absence


def _note(
    absence: Absence, done: str, words: str, acting_user: User, at: datetime
) -> None:
    record(
        Happening(
            verb=f"absence.{done}",
            kind="absence",
            subject_id=absence.pk,
            summary=(
                f"{absence.technician.name} away from {absence.first_on} "
                f"to {absence.last_on}: {words}"
            ),
            reason=absence.reason,
        ),
        acting_user=acting_user,
        at=at,
    )
