"""The life of one plan of the shop, and what it reckons with where nothing is known.

A plan waits (`queued`), is being worked out (`working`), stands (`ready`) or could not
be worked out (`failed`). It is a row first; a message only wakes a worker.
"""

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from enum import StrEnum

from shop.domain.estimates import ThreePoint
from shop.domain.lifecycle import State

DRAWS = 2000
MOST_TRIES = 3
LEASE = timedelta(seconds=60)
PAUSE = timedelta(seconds=3)
REST = timedelta(minutes=10)
"""A plan out of date is worked out anew by itself after this, not at every change."""


class PlanState(StrEnum):
    """Where a plan stands."""

    QUEUED = "queued"
    WORKING = "working"
    READY = "ready"
    FAILED = "failed"


PLAN_STATE_LABELS: dict[PlanState, str] = {
    PlanState.QUEUED: "Waiting for its turn",
    PlanState.WORKING: "Being worked out",
    PlanState.READY: "Worked out",
    PlanState.FAILED: "Could not be worked out",
}

UNDER_WAY = frozenset({PlanState.QUEUED, PlanState.WORKING})


class PlanEvent(StrEnum):
    """What can happen to a plan."""

    CLAIM = "claim"
    FINISH = "finish"
    PUT_BACK = "put back"
    PUT_ASIDE = "put aside"


PLAN_MOVES: dict[tuple[PlanState, PlanEvent], PlanState] = {
    (PlanState.QUEUED, PlanEvent.CLAIM): PlanState.WORKING,
    (PlanState.WORKING, PlanEvent.FINISH): PlanState.READY,
    (PlanState.WORKING, PlanEvent.PUT_BACK): PlanState.QUEUED,
    (PlanState.WORKING, PlanEvent.PUT_ASIDE): PlanState.FAILED,
}

# What a change of, puts a plan out of date: the subjects of history.
PLANNED_FROM = (
    "absence",
    "clock",
    "hold",
    "labour",
    "labour_line",
    "outside_work",
    "person",
    "supplier",
    "task",
    "work_order",
    "working_hours",
)

# Where the work is agreed and can go on; everything else queues behind it.
AGREED = frozenset({State.ON_THE_BENCH, State.WAITING, State.FINAL_CHECK})


def after_try(tries: int) -> PlanEvent:
    """Return what follows when a try to work a plan out came to nothing.

    Examples
    --------
    >>> after_try(1).value, after_try(3).value
    ('put back', 'put aside')
    """
    return PlanEvent.PUT_ASIDE if tries >= MOST_TRIES else PlanEvent.PUT_BACK


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """Where a work order stands in the queue; the smaller is served first.

    Agreed work comes before what may never be agreed, and in both the earliest
    promise first; what has no promise comes after, by number.
    """

    is_not_agreed: bool
    has_no_promise: bool
    promised_on: date
    number: int

    @classmethod
    def of(cls, state: State, promised_on: date | None, number: int) -> "Place":
        """Return the place of a work order.

        Examples
        --------
        >>> soon = Place.of(State.ON_THE_BENCH, date(2026, 12, 1), 1009)
        >>> soon < Place.of(State.ON_THE_BENCH, None, 1001)
        True
        >>> soon < Place.of(State.BOOKED_IN, date(2026, 11, 1), 1002)
        True
        """
        return cls(
            state not in AGREED, promised_on is None, promised_on or date.max, number
        )


# Promised days slip. As the latest counts half as long again as is still to go, a few
# days at least; without any date, a fortnight, six weeks at the latest. Common
# practice, no source.
LEAST_SLIP_DAYS = 3
UNDATED_WAIT = ThreePoint(Decimal(1), Decimal(14), Decimal(42))


def wait_until(expected_on: date | None, *, first: date) -> ThreePoint:
    """Return how many days something awaited may still take.

    What is overdue is not here yet, so it comes tomorrow at the earliest.

    Examples
    --------
    >>> wait = wait_until(date(2026, 12, 6), first=date(2026, 11, 26))
    >>> wait.optimistic, wait.likely, wait.pessimistic
    (Decimal('10'), Decimal('10'), Decimal('15'))
    >>> late = wait_until(date(2026, 11, 1), first=date(2026, 11, 26))
    >>> late.optimistic, late.pessimistic
    (Decimal('1'), Decimal('4'))
    """
    if expected_on is None:
        return UNDATED_WAIT
    days = max((expected_on - first).days, 1)
    slip = max(days // 2, LEAST_SLIP_DAYS)
    return ThreePoint(Decimal(days), Decimal(days), Decimal(days + slip))
