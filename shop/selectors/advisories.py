"""Advisories: what was noticed in passing on a work order."""

from dataclasses import dataclass
from datetime import datetime

from shop.domain.advisories import (
    OUTCOME_LABELS,
    URGENCY_LABELS,
    Outcome,
    Urgency,
)
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer
from shop.models import Advisory
from shop.models.advisories import AdvisoryQuerySet


@dataclass(frozen=True, slots=True, kw_only=True)
class AdvisoryRow:
    """One thing noticed: what, where, how urgent, told or not, what became of it."""

    id: int
    work_order_id: int
    what: str
    place: str
    urgency: str
    urgency_label: str
    noticed_at: datetime
    noticed_by_name: str
    is_told: bool
    told_at: datetime | None
    told_how: str
    told_by_name: str
    outcome: str
    outcome_label: str
    outcome_reason: str
    task_id: int | None


def advisory_rows(*, work_order_id: int, viewer: Viewer) -> tuple[AdvisoryRow, ...]:
    """Return what was noticed on a work order, the most urgent first, in one query."""
    viewer.demand(Act.SEE_SHOP)
    found = _with_people(Advisory.objects.of_work_order(work_order_id))
    order = [urgency.value for urgency in Urgency]
    rows = (advisory_row(advisory) for advisory in found)
    return tuple(sorted(rows, key=lambda row: order.index(row.urgency)))


def advisory(*, advisory_id: int, viewer: Viewer) -> AdvisoryRow:
    """Return one advisory.

    Raises
    ------
    NotFound
        No such advisory.
    """
    viewer.demand(Act.SEE_SHOP)
    found = _with_people(Advisory.objects.filter(pk=advisory_id)).first()
    if found is None:
        raise NotFound("advisory-not-found", "There is no such advisory.")
    return advisory_row(found)


def advisory_row(advisory: Advisory) -> AdvisoryRow:
    """Return an advisory as a row; its people must have been fetched with it."""
    outcome, urgency = Outcome(advisory.outcome), Urgency(advisory.urgency)
    return AdvisoryRow(
        id=advisory.pk,
        work_order_id=advisory.work_order_id,
        what=advisory.what,
        place=advisory.place,
        urgency=urgency.value,
        urgency_label=URGENCY_LABELS[urgency],
        noticed_at=advisory.noticed_at,
        noticed_by_name=advisory.noticed_by.name,
        is_told=advisory.told_at is not None,
        told_at=advisory.told_at,
        told_how=advisory.told_how,
        told_by_name=advisory.told_by.name if advisory.told_by else "",
        outcome=outcome.value,
        outcome_label=OUTCOME_LABELS[outcome],
        outcome_reason=advisory.outcome_reason,
        task_id=advisory.task_id,
    )


def _with_people(found: AdvisoryQuerySet) -> AdvisoryQuerySet:
    return found.select_related("noticed_by", "told_by")
