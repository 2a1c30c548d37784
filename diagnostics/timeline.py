"""What the bench adds to a bike's page: its acts on the time line, and the drawing."""

from collections.abc import Mapping, Sequence

from django.urls import reverse

from diagnostics.selectors.bike_histories import case_titles, drawing_of_bike
from shop.seams import Link, Loom, Registry, TimelineKind

ORDER = 30
NOUNS = ("case", "finding", "repair", "measurement")


def register_with(registry: Registry) -> None:
    """Register the acts of the bench and the drawings."""
    registry.register_timeline_kind(FINDINGS)
    registry.register_looms("bench", loom_of_bike)


def case_links(*, subject_ids: Sequence[int]) -> Mapping[int, Link]:
    """Return where each case is shown."""
    return {
        case_id: Link(text=title, href=reverse("diagnostics:case", args=[case_id]))
        for case_id, title in case_titles(case_ids=subject_ids).items()
    }


def loom_of_bike(*, bike_id: int) -> Loom | None:
    """Return the drawing that the bike was last worked with."""
    found = drawing_of_bike(bike_id=bike_id)
    if found is None:
        return None
    return Loom(
        text=found.name,
        href=reverse("diagnostics:harness_file", args=[found.harness_file_id]),
        used_at=found.used_at,
    )


FINDINGS = TimelineKind("findings", "Cases and findings", NOUNS, ORDER, case_links)
