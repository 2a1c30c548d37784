"""Absences: who is away, and when."""

from dataclasses import dataclass
from datetime import date

from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer
from shop.models import Absence


@dataclass(frozen=True, slots=True, kw_only=True)
class AbsenceRow:
    """Days on which somebody is away."""

    id: int
    technician_id: int
    technician_name: str
    first_on: date
    last_on: date
    reason: str


def absence(*, absence_id: int, viewer: Viewer) -> AbsenceRow:
    """Return one absence.

    Raises
    ------
    NotFound
        There is no such absence.
    """
    viewer.demand(Act.SEE_SHOP)
    row = Absence.objects.select_related("technician").filter(pk=absence_id).first()
    if row is None:
        raise NotFound("absence-not-found", "There is no such absence.")
    return absence_row(row)


def absence_row(row: Absence) -> AbsenceRow:
    """Return an absence as a row; the technician must have been fetched with it."""
    return AbsenceRow(
        id=row.pk,
        technician_id=row.technician_id,
        technician_name=row.technician.name,
        first_on=row.first_on,
        last_on=row.last_on,
        reason=row.reason,
    )
