"""The first page after signing in: what waits for me, and how the shop stands."""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import chain

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from shop.domain.lifecycle import State
from shop.domain.roles import Act, Role, Viewer
from shop.selectors.board import BoardColumn, board
from shop.selectors.outside_work import overdue_outside_work
from shop.selectors.work_order_rows import WorkOrderRow
from shop.web.viewer import viewer_of

MOST_CARDS = 12
MOST_OTHERS = 15


@dataclass(frozen=True, slots=True)
class Next:
    """Whose hand a state waits for, and what that hand should do."""

    waits_for: str
    hint: str
    roles: frozenset[Role]


_DESK = frozenset({Role.OWNER, Role.FRONT_DESK})
_BENCH = frozenset({Role.OWNER, Role.TECHNICIAN})

NEXT: dict[State, Next] = {
    State.BOOKED_IN: Next(
        "for an estimate or a bench", "Estimate it or start work", _BENCH
    ),
    State.ESTIMATING: Next("for its estimate", "Finish the estimate", _BENCH),
    State.AWAITING_APPROVAL: Next("for the customer's yes", "Ask the customer", _DESK),
    State.ON_THE_BENCH: Next("for the technician", "Work on it", _BENCH),
    State.WAITING: Next(
        "for a part or an answer",
        "See whether it has come",
        frozenset({Role.OWNER, Role.TECHNICIAN, Role.STOREKEEPER}),
    ),
    State.FINAL_CHECK: Next("for the final check", "Check and ride it", _BENCH),
    State.READY: Next("to be fetched", "Call the customer", _DESK),
}


@dataclass(frozen=True, slots=True)
class Card:
    """A work order that this person can move on."""

    row: WorkOrderRow
    hint: str


@dataclass(frozen=True, slots=True)
class Cell:
    """How many work orders stand in a state."""

    state: str
    label: str
    count: int
    waits_for: str


@require_safe
def page(request: HttpRequest) -> HttpResponse:
    """Show what this person can move on, then everything that is open."""
    viewer = viewer_of(request)
    columns = board(viewer=viewer)
    mine = [card for column in columns for card in _cards(column, viewer)]
    shown = {card.row.id for card in mine}
    rest = chain.from_iterable(column.rows for column in columns)
    others = [row for row in rest if row.id not in shown]
    return render(
        request,
        "shop/today/page.html",
        {
            "today": timezone.localdate(),
            "greeting": f"Good to see you, {viewer.name.split()[0]}",
            "mine": mine[:MOST_CARDS],
            "mine_more": max(len(mine) - MOST_CARDS, 0),
            "cells": [_cell(column) for column in columns],
            "others": others[:MOST_OTHERS],
            "late": overdue_outside_work(viewer=viewer, today=timezone.localdate()),
            "is_empty_shop": not any(column.count for column in columns),
            "sees_customers": viewer.may(Act.SEE_CUSTOMERS),
            "may_book_in": viewer.may(Act.BOOK_IN),
        },
    )


def _cards(column: BoardColumn, viewer: Viewer) -> Iterable[Card]:
    step = NEXT[State(column.state)]
    if viewer.role not in step.roles:
        return []
    return [
        Card(row=row, hint=step.hint)
        for row in column.rows
        if viewer.role is Role.OWNER
        or row.technician_id in {None, viewer.user_id}
        or Role.TECHNICIAN not in step.roles
    ]


def _cell(column: BoardColumn) -> Cell:
    return Cell(
        state=column.state,
        label=column.label,
        count=column.count,
        waits_for=NEXT[State(column.state)].waits_for,
    )
