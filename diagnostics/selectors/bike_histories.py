"""What the bench knows of one bike: titles of its cases, the drawing in use."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from diagnostics.models import Case


@dataclass(frozen=True, kw_only=True)
class DrawingInUse:
    """The drawing that a bike was last worked with."""

    harness_file_id: int
    name: str
    used_at: datetime


def case_titles(*, case_ids: Sequence[int]) -> Mapping[int, str]:
    """Return the titles of these cases by id, in one query."""
    found = Case.objects.with_ids(case_ids).values_list("pk", "title")
    return dict(found)


def drawing_of_bike(*, bike_id: int) -> DrawingInUse | None:
    """Return the drawing of the bike's newest case, in one query."""
    case = Case.objects.of_bike(bike_id).with_surroundings().newest_first().first()
    if case is None:
        return None
    return DrawingInUse(
        harness_file_id=case.harness_file_id,
        name=str(case.harness_file),
        used_at=case.opened_at,
    )
