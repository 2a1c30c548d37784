"""Holds on work orders: what stands and what was released."""

from dataclasses import dataclass
from datetime import date, datetime

from shop.domain.holds import HOLD_LABELS, RELEASE_ACTS, HoldReason
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer
from shop.models import Hold


@dataclass(frozen=True, slots=True, kw_only=True)
class HoldRow:
    """One hold; without a task it holds the whole bike."""

    id: int
    work_order_id: int
    task_id: int | None
    operation: str
    kind: str
    kind_label: str
    detail: str
    expected_on: date | None
    since: datetime
    placed_by_name: str
    is_released: bool
    released_at: datetime | None
    released_by_name: str
    release_note: str
    may_release: bool


def hold_rows(*, work_order_id: int, viewer: Viewer) -> tuple[HoldRow, ...]:
    """Return all holds of a work order, the standing ones first, in one query."""
    viewer.demand(Act.SEE_SHOP)
    rows = (
        hold_row(hold, viewer)
        for hold in Hold.objects.of_work_order(work_order_id).select_related(
            "task", "placed_by", "released_by"
        )
    )
    return tuple(sorted(rows, key=lambda row: row.is_released))


def hold(*, hold_id: int, viewer: Viewer) -> HoldRow:
    """Return one hold.

    Raises
    ------
    NotFound
        No such hold.
    """
    viewer.demand(Act.SEE_SHOP)
    people = Hold.objects.select_related("task", "placed_by", "released_by")
    found = people.filter(pk=hold_id).first()
    if found is None:
        raise NotFound("hold-not-found", "There is no such hold.")
    return hold_row(found, viewer)


def hold_row(hold: Hold, viewer: Viewer) -> HoldRow:
    """Return a hold as a row; its people and task must have been fetched with it."""
    kind = HoldReason(hold.kind)
    released = hold.released_at is not None
    return HoldRow(
        id=hold.pk,
        work_order_id=hold.work_order_id,
        task_id=hold.task_id,
        operation=hold.task.operation if hold.task else "",
        kind=kind.value,
        kind_label=HOLD_LABELS[kind],
        detail=hold.detail,
        expected_on=hold.expected_on,
        since=hold.since,
        placed_by_name=hold.placed_by.name,
        is_released=released,
        released_at=hold.released_at,
        released_by_name=hold.released_by.name if hold.released_by else "",
        release_note=hold.release_note,
        may_release=not released and viewer.may(RELEASE_ACTS[kind]),
    )
