"""Whose row it is: what one may do with one's own, and what with another's.

Each route that names a row of somebody's (a line of hours, a running clock, a
session, an account) is tried with one's own row and with another's. Where its door
in `doors.py` leaves open which act is asked, the row here says it.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import timedelta
from typing import Literal

from django.utils import timezone

from shop.domain.roles import Act
from shop.models import Absence, User
from tests.builders import ClockFactory, LabourLineFactory, TaskFactory
from tests.shop.signed_in_places import session_of, sign_in_from

Asked = Act | Literal["signed in"]


@dataclass(frozen=True)
class Whose:
    """What is asked for one's own row and for another's, and a body that is whole."""

    own: Asked
    other: Asked
    body: dict[str, str] = field(default_factory=dict)
    looking_too: bool = False


_CORRECTION = {
    "stopped_at": (timezone.now() - timedelta(minutes=5)).isoformat()[:16],
    "reason": "forgot to clock off",
}
_HOURS = (Act.BOOK_LABOUR, Act.BOOK_LABOUR_FOR_OTHERS)

WHOSE: dict[str, Whose] = {
    "shop:labour_void": Whose(*_HOURS, {"reason": "booked twice"}),
    "api-labour-void": Whose(*_HOURS, {"reason": "booked twice"}),
    "shop:clock_off": Whose(*_HOURS),
    "api-clock-off": Whose(*_HOURS),
    "shop:clock_correct": Whose(*_HOURS, _CORRECTION),
    "api-clock-correct": Whose(*_HOURS, _CORRECTION),
    "shop:person_sessions": Whose("signed in", Act.KEEP_PEOPLE, looking_too=True),
    "api-person-sessions": Whose("signed in", Act.KEEP_PEOPLE, looking_too=True),
    "shop:person_sessions_end": Whose("signed in", Act.KEEP_PEOPLE),
    "shop:session_end": Whose("signed in", Act.KEEP_PEOPLE),
    "api-session": Whose("signed in", Act.KEEP_PEOPLE),
}


def _absence(person: User) -> int:
    today = timezone.localdate()
    return Absence.objects.create(
        technician=person,
        first_on=today,
        last_on=today,
        entered_by=person,
        created_at=timezone.now(),
    ).pk


# A row that belongs to somebody, by the argument that names it.
ROWS_OF: dict[str, Callable[[User], int]] = {
    "line_id": lambda person: LabourLineFactory(technician=person).pk,
    "clock_id": lambda person: ClockFactory(technician=person).pk,
    "session_id": lambda person: session_of(sign_in_from(person)).pk,
    "task_id": lambda person: TaskFactory(technician=person).pk,
    "absence_id": _absence,
    "person_id": lambda person: person.pk,
    "technician_id": lambda person: person.pk,
}
# Lines of parts are nobody's: who booked them does not matter.
NOBODYS = {"shop:part_line_void", "api-part-line", "api-part-line-void"}
