"""The board: how many work orders stand where, and the open ones by state."""

from dataclasses import dataclass

from django.db.models import Count

from shop.domain.lifecycle import OPEN, STATE_LABELS, State
from shop.domain.roles import Act, Viewer
from shop.models import WorkOrder
from shop.selectors.windows import MOST_ROWS
from shop.selectors.work_order_rows import WorkOrderRow, work_order_row


@dataclass(frozen=True, slots=True, kw_only=True)
class StateCount:
    """How many work orders are in a state."""

    state: str
    label: str
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardColumn:
    """The open work orders in one state, the longest there first."""

    state: str
    label: str
    count: int
    rows: tuple[WorkOrderRow, ...]


def state_counts(*, viewer: Viewer) -> tuple[StateCount, ...]:
    """Return the number of work orders in every state, in one query."""
    viewer.demand(Act.SEE_SHOP)
    counted = _counts()
    return tuple(
        StateCount(state=state.value, label=label, count=counted.get(state.value, 0))
        for state, label in STATE_LABELS.items()
    )


def board(*, viewer: Viewer) -> tuple[BoardColumn, ...]:
    """Return a column for every open state, in two queries."""
    viewer.demand(Act.SEE_SHOP)
    counted = _counts()
    oldest = WorkOrder.objects.still_open().with_people().longest_waiting()
    rows = [work_order_row(order, viewer) for order in oldest[:MOST_ROWS]]
    return tuple(
        BoardColumn(
            state=state.value,
            label=STATE_LABELS[state],
            count=counted.get(state.value, 0),
            rows=tuple(row for row in rows if row.state == state),
        )
        for state in State
        if state in OPEN
    )


def _counts() -> dict[str, int]:
    found = WorkOrder.objects.order_by().values_list("state").annotate(Count("pk"))
    return dict(found)
