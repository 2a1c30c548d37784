"""Tasks of a work order: three guesses of the hours, one table of moves, an order."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum
from typing import Self

from shop.domain.entries import TextRule, clean_member, tidied
from shop.domain.labour import LabourKind
from shop.domain.lifecycle import STATE_LABELS, State
from shop.domain.refusals import IllegalMove, Refusal

MOST_HOURS = Decimal(10_000)
HOUR_STEP = Decimal("0.01")


class TaskState(StrEnum):
    """Where a task stands."""

    PLANNED = "planned"
    UNDERWAY = "underway"
    DONE = "done"
    DROPPED = "dropped"


TASK_STATE_LABELS: dict[TaskState, str] = {
    TaskState.PLANNED: "Planned",
    TaskState.UNDERWAY: "Under way",
    TaskState.DONE: "Done",
    TaskState.DROPPED: "Dropped",
}

TASK_OPEN = frozenset({TaskState.PLANNED, TaskState.UNDERWAY})
TASK_SETTLED = frozenset(TaskState) - TASK_OPEN


class TaskEvent(StrEnum):
    """What can happen to a task."""

    START = "start"
    LAY_ASIDE = "lay_aside"
    FINISH = "finish"
    DROP = "drop"
    TAKE_UP_AGAIN = "take_up_again"
    PUT_BACK = "put_back"


TASK_EVENT_LABELS: dict[TaskEvent, str] = {
    TaskEvent.START: "Start",
    TaskEvent.LAY_ASIDE: "Lay aside",
    TaskEvent.FINISH: "Done",
    TaskEvent.DROP: "Drop",
    TaskEvent.TAKE_UP_AGAIN: "Take up again",
    TaskEvent.PUT_BACK: "Put back on the list",
}

TASK_EVENT_DONE: dict[TaskEvent, str] = {
    TaskEvent.START: "started",
    TaskEvent.LAY_ASIDE: "laid aside",
    TaskEvent.FINISH: "done",
    TaskEvent.DROP: "dropped",
    TaskEvent.TAKE_UP_AGAIN: "taken up again",
    TaskEvent.PUT_BACK: "put back on the list",
}

TASK_MOVES: dict[tuple[TaskState, TaskEvent], TaskState] = {
    (TaskState.PLANNED, TaskEvent.START): TaskState.UNDERWAY,
    (TaskState.PLANNED, TaskEvent.DROP): TaskState.DROPPED,
    (TaskState.UNDERWAY, TaskEvent.FINISH): TaskState.DONE,
    (TaskState.UNDERWAY, TaskEvent.LAY_ASIDE): TaskState.PLANNED,
    (TaskState.UNDERWAY, TaskEvent.DROP): TaskState.DROPPED,
    (TaskState.DONE, TaskEvent.TAKE_UP_AGAIN): TaskState.UNDERWAY,
    (TaskState.DROPPED, TaskEvent.PUT_BACK): TaskState.PLANNED,
}

TASK_NEEDS_REASON = frozenset({TaskEvent.DROP, TaskEvent.TAKE_UP_AGAIN})
HANDS_ON = frozenset({TaskEvent.START, TaskEvent.TAKE_UP_AGAIN})

_RULES = (
    TextRule("operation", "The operation", 200, required=True),
    TextRule("notes", "The note", 4000),
    TextRule("caution", "The caution", 2000),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class StepDetails:
    """What can be entered about a step of a template; the hours are hands-on hours.

    Parameters
    ----------
    optimistic_hours, likely_hours, pessimistic_hours : Decimal
        If all goes well, most likely, if it fights back; none below the one before.
    labour_kind : str
        What its hours are booked as.
    """

    operation: str
    optimistic_hours: Decimal
    likely_hours: Decimal
    pessimistic_hours: Decimal
    labour_kind: str = LabourKind.REPAIR.value
    notes: str = ""
    caution: str = ""

    def checked(self) -> Self:
        """Return the details tidied, or refuse them."""
        check_hours(self.optimistic_hours, self.likely_hours, self.pessimistic_hours)
        kind = clean_member(
            LabourKind, self.labour_kind, field="labour_kind", name="The kind of work"
        )
        return replace(tidied(self, _RULES), labour_kind=kind.value)


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskDetails(StepDetails):
    """What can be entered about a task of a work order."""

    technician_id: int | None = None


def check_hours(optimistic: Decimal, likely: Decimal, pessimistic: Decimal) -> None:
    """Refuse hours that are negative, too fine or in the wrong order.

    Raises
    ------
    Refusal
        ``hours-out-of-range``, ``hours-too-fine`` or ``hours-out-of-order``.

    Examples
    --------
    >>> check_hours(Decimal(2), Decimal(3), Decimal(6))
    """
    fields = ("optimistic_hours", "likely_hours", "pessimistic_hours")
    for field, hours in zip(fields, (optimistic, likely, pessimistic), strict=True):
        if not hours.is_finite() or not 0 <= hours < MOST_HOURS:
            raise Refusal(
                "hours-out-of-range",
                f"The hours must be from 0 to under {MOST_HOURS:,}.",
                field,
            )
        if hours % HOUR_STEP:
            raise Refusal(
                "hours-too-fine", "The hours can have 2 decimal places.", field
            )
    if likely < optimistic:
        raise Refusal(
            "hours-out-of-order",
            "The most likely hours cannot be less than those if all goes well.",
            "likely_hours",
        )
    if pessimistic < likely:
        raise Refusal(
            "hours-out-of-order",
            "The hours if it fights back cannot be less than the most likely ones.",
            "pessimistic_hours",
        )
    if pessimistic == 0:
        raise Refusal(
            "hours-missing", "A task takes some time: enter its hours.", "likely_hours"
        )


def expected_hours(
    optimistic: Decimal, likely: Decimal, pessimistic: Decimal
) -> Decimal:
    """Return the mean of the three guesses as the project trade weighs them (PERT).

    Examples
    --------
    >>> expected_hours(Decimal(2), Decimal(4), Decimal(12))
    Decimal('5')
    """
    return (optimistic + 4 * likely + pessimistic) / 6


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskFacts:
    """What a guard of a task's move may look at.

    Parameters
    ----------
    order_state : State
        Where the work order stands.
    waits_for : tuple of str
        Operations that must come first and are not settled.
    held_by : tuple of str
        Holds that stand on the task itself.
    """

    order_state: State
    reason: str = ""
    waits_for: tuple[str, ...] = ()
    held_by: tuple[str, ...] = ()


def task_moves_from(state: TaskState) -> tuple[TaskEvent, ...]:
    """Return the events that the table knows from here, in the table's order.

    Examples
    --------
    >>> [event.value for event in task_moves_from(TaskState.PLANNED)]
    ['start', 'drop']
    """
    return tuple(event for (old, event) in TASK_MOVES if old is state)


def next_task_state(state: TaskState, event: TaskEvent, facts: TaskFacts) -> TaskState:
    """Return where the event leads.

    Raises
    ------
    IllegalMove
        Where the table has no such move, a reason is missing, or something must
        come first.
    """
    target = TASK_MOVES.get((state, event))
    if target is None:
        possible = ", ".join(
            TASK_EVENT_LABELS[e].lower() for e in task_moves_from(state)
        )
        raise IllegalMove(
            "illegal-task-move",
            f"“{TASK_EVENT_LABELS[event]}” is not possible: the task is "
            f"{TASK_STATE_LABELS[state].lower()}. Possible now: {possible}.",
        )
    if event in TASK_NEEDS_REASON and not facts.reason.strip():
        raise IllegalMove("reason-missing", "Say why, in a few words.", "reason")
    if event in HANDS_ON:
        _check_hands_on(facts)
    return target


def _check_hands_on(facts: TaskFacts) -> None:
    if facts.order_state is not State.ON_THE_BENCH:
        raise IllegalMove(
            "order-not-on-bench",
            "Work goes on only while the bike is on the bench; the work order is "
            f"{STATE_LABELS[facts.order_state].lower()}.",
        )
    if facts.held_by:
        raise IllegalMove(
            "task-held",
            f"The task is held: {'; '.join(facts.held_by)}. Release the hold first.",
        )
    if facts.waits_for:
        raise IllegalMove(
            "task-waits",
            f"First comes: {'; '.join(facts.waits_for)}. Finish or drop that first.",
        )


def check_no_cycle(
    needs: Mapping[int, Iterable[int]], names: Mapping[int, str]
) -> None:
    """Refuse an order of tasks in which one would have to come before itself.

    Parameters
    ----------
    needs : mapping of int to iterable of int
        Task id to the ids that must come first.
    names : mapping of int to str
        Task id to operation, for the refusal.

    Raises
    ------
    Refusal
        ``tasks-in-a-circle``, with the operations of the circle.

    Examples
    --------
    >>> check_no_cycle({2: [1], 3: [1, 2]}, {1: "Strip", 2: "Plate", 3: "Build"})
    """
    circle = find_cycle(needs)
    if circle:
        told = " → ".join(names.get(task, str(task)) for task in circle)
        raise Refusal(
            "tasks-in-a-circle",
            f"These tasks would wait for each other in a circle: {told}. "
            "Take one of them out.",
            "depends_on",
        )


def find_cycle(needs: Mapping[int, Iterable[int]]) -> tuple[int, ...]:
    """Return one circle of ids, its first repeated at the end; empty where none is.

    Examples
    --------
    >>> find_cycle({1: [2], 2: [3], 3: [1]})
    (1, 2, 3, 1)
    """
    settled: set[int] = set()
    for start in needs:
        path: list[int] = []
        stack = [(start, iter(needs.get(start, ())))] if start not in settled else []
        path.extend(node for node, _ in stack)
        while stack:
            node, rest = stack[-1]
            following = next((other for other in rest if other not in settled), None)
            if following is None:
                stack.pop()
                path.pop()
                settled.add(node)
            elif following in path:
                return (*path[path.index(following) :], following)
            else:
                path.append(following)
                stack.append((following, iter(needs.get(following, ()))))
    return ()
