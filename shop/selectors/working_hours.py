"""Who is at the bench when: the week of each technician, and who is away."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Role, Viewer
from shop.domain.working_hours import WEEKDAYS, WeekHours
from shop.models import Absence, User, WorkingHours
from shop.selectors.absences import AbsenceRow, absence_row


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkingHoursRow:
    """One technician's week at the bench."""

    technician_id: int
    technician_name: str
    monday: Decimal
    tuesday: Decimal
    wednesday: Decimal
    thursday: Decimal
    friday: Decimal
    saturday: Decimal
    sunday: Decimal
    total: Decimal
    is_usual: bool
    away: tuple[AbsenceRow, ...]


def working_hours_list(*, viewer: Viewer, today: date) -> tuple[WorkingHoursRow, ...]:
    """Return the week of every technician, and of whoever else has one."""
    viewer.demand(Act.SEE_SHOP)
    weeks = {row.technician_id: row for row in WorkingHours.objects.all()}
    away: dict[int, list[AbsenceRow]] = defaultdict(list)
    coming = Absence.objects.not_over(today).soonest_first()
    for absence in coming.select_related("technician"):
        away[absence.technician_id].append(absence_row(absence))
    return tuple(
        _row(person, weeks.get(person.pk), tuple(away[person.pk]))
        for person in User.objects.by_name().at_work()
        if person.role == Role.TECHNICIAN.value or person.pk in weeks
    )


def working_hours_of(*, technician_id: int, viewer: Viewer) -> WorkingHoursRow:
    """Return one person's week; the usual one until another is written down.

    Raises
    ------
    NotFound
        There is nobody of this number.
    """
    viewer.demand(Act.SEE_SHOP)
    person = User.objects.by_name().at_work().filter(pk=technician_id).first()
    if person is None:
        raise NotFound("person-not-found", "There is no such person.")
    found = Absence.objects.of_technician(technician_id).soonest_first()
    return _row(
        person,
        WorkingHours.objects.filter(technician_id=technician_id).first(),
        tuple(absence_row(row) for row in found.select_related("technician")),
    )


def _row(
    person: User, row: WorkingHours | None, away: tuple[AbsenceRow, ...]
) -> WorkingHoursRow:
    source = row if row is not None else WeekHours()
    hours = {day: getattr(source, day) for day in WEEKDAYS}
    return WorkingHoursRow(
        technician_id=person.pk,
        technician_name=person.name,
        total=sum(hours.values(), Decimal(0)),
        is_usual=row is None,
        away=away,
        **hours,
    )
