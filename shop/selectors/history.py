"""What happened, when, and by whom."""

from dataclasses import dataclass, replace
from datetime import datetime

from shop.domain.lifecycle import STATE_LABELS, State
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer
from shop.models import HistoryEntry, WorkOrder
from shop.selectors.windows import FIRST_ROWS, Listing, Window, listing

# Kinds of subjects whose history never speaks of a customer.
_NAMES_NOBODY = frozenset({"part", "supplier", "tax_rate", "shop_settings"})
# Kinds where only what was changed may name one.
_NAMES_IN_CHANGES = frozenset({"outside_work", "strip_tag"})


@dataclass(frozen=True, slots=True, kw_only=True)
class HistoryRow:
    """One act on a time line."""

    id: int
    at: datetime
    actor_name: str
    verb: str
    summary: str
    reason: str
    old_state_label: str
    new_state_label: str
    changes: tuple[tuple[str, str, str], ...]  # field, before, after


def work_order_history(
    *, work_order_id: int, viewer: Viewer, window: Window = FIRST_ROWS
) -> Listing[HistoryRow]:
    """Return the time line of a work order, the newest first.

    Raises
    ------
    NotFound
        No such work order.
    """
    viewer.demand(Act.SEE_SHOP)
    entries = HistoryEntry.objects.of_work_order(work_order_id).latest_first()
    sees = viewer.may(Act.SEE_CUSTOMERS)
    found = listing(entries, window=window, row=_row if sees else _row_without_changes)
    if not found.total and not WorkOrder.objects.filter(pk=work_order_id).exists():
        raise NotFound("work-order-not-found", "There is no such work order.")
    return found


def subject_history(
    *, kind: str, subject_id: int, viewer: Viewer, window: Window = FIRST_ROWS
) -> Listing[HistoryRow]:
    """Return what happened to one customer, bike, part or person.

    Raises
    ------
    NotAllowed
        A customer may be named in it, and the viewer may not see any.
    """
    is_open_to_all = kind in _NAMES_NOBODY | _NAMES_IN_CHANGES
    viewer.demand(Act.SEE_SHOP if is_open_to_all else Act.SEE_CUSTOMERS)
    found = HistoryEntry.objects.of_subject(kind, subject_id).latest_first()
    sees = kind in _NAMES_NOBODY or viewer.may(Act.SEE_CUSTOMERS)
    return listing(found, window=window, row=_row if sees else _row_without_changes)


def _row(entry: HistoryEntry) -> HistoryRow:
    return HistoryRow(
        id=entry.pk,
        at=entry.at,
        actor_name=entry.actor_name,
        verb=entry.verb,
        summary=entry.summary,
        reason=entry.reason,
        old_state_label=state_label(entry.old_state),
        new_state_label=state_label(entry.new_state),
        changes=tuple(
            (name, pair[0], pair[1]) for name, pair in sorted(entry.changes.items())
        ),
    )


def _row_without_changes(entry: HistoryEntry) -> HistoryRow:
    return replace(_row(entry), changes=())


def state_label(state: str) -> str:
    """Return a work order's state as people say it; other things' states as words."""
    if state in set(State):
        return STATE_LABELS[State(state)]
    return state.replace("_", " ").capitalize()
