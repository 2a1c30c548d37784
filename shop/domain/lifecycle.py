"""The life of a work order: one table of moves, and guards that may refuse one."""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from shop.domain.refusals import IllegalMove, Refusal
from shop.domain.roles import Act


class State(StrEnum):
    """Where a work order stands."""

    BOOKED_IN = "booked_in"
    ESTIMATING = "estimating"
    AWAITING_APPROVAL = "awaiting_approval"
    ON_THE_BENCH = "on_the_bench"
    WAITING = "waiting"
    FINAL_CHECK = "final_check"
    READY = "ready"
    CLOSED = "closed"
    CALLED_OFF = "called_off"


STATE_LABELS: dict[State, str] = {
    State.BOOKED_IN: "Booked in",
    State.ESTIMATING: "Estimating",
    State.AWAITING_APPROVAL: "Awaiting approval",
    State.ON_THE_BENCH: "On the bench",
    State.WAITING: "Waiting",
    State.FINAL_CHECK: "Final check",
    State.READY: "Ready",
    State.CLOSED: "Closed",
    State.CALLED_OFF: "Called off",
}

ENDED = frozenset({State.CLOSED, State.CALLED_OFF})
OPEN = frozenset(State) - ENDED


class Event(StrEnum):
    """What can happen to a work order."""

    START_ESTIMATE = "start_estimate"
    SEND_ESTIMATE = "send_estimate"
    REVISE_ESTIMATE = "revise_estimate"
    APPROVE = "approve"
    START_WORK = "start_work"
    WAIT = "wait"
    RESUME = "resume"
    FINISH_WORK = "finish_work"
    FAIL_CHECK = "fail_check"
    SIGN_OFF = "sign_off"
    BACK_TO_BENCH = "back_to_bench"
    HAND_OVER = "hand_over"
    CALL_OFF = "call_off"


EVENT_LABELS: dict[Event, str] = {
    Event.START_ESTIMATE: "Start the estimate",
    Event.SEND_ESTIMATE: "Send the estimate",
    Event.REVISE_ESTIMATE: "Revise the estimate",
    Event.APPROVE: "Record the approval",
    Event.START_WORK: "Start work",
    Event.WAIT: "Put on hold",
    Event.RESUME: "Take up again",
    Event.FINISH_WORK: "Send to final check",
    Event.FAIL_CHECK: "Send back to the bench",
    Event.SIGN_OFF: "Sign off the final check",
    Event.BACK_TO_BENCH: "Take back to the bench",
    Event.HAND_OVER: "Hand over and close",
    Event.CALL_OFF: "Call off",
}

EVENT_DONE: dict[Event, str] = {
    Event.START_ESTIMATE: "Estimate started",
    Event.SEND_ESTIMATE: "Estimate sent",
    Event.REVISE_ESTIMATE: "Estimate taken up again",
    Event.APPROVE: "Approval recorded",
    Event.START_WORK: "Work started",
    Event.WAIT: "Put on hold",
    Event.RESUME: "Taken up again",
    Event.FINISH_WORK: "Sent to final check",
    Event.FAIL_CHECK: "Sent back to the bench",
    Event.SIGN_OFF: "Final check signed off",
    Event.BACK_TO_BENCH: "Taken back to the bench",
    Event.HAND_OVER: "Handed over and closed",
    Event.CALL_OFF: "Called off",
}

EVENT_ACTS: dict[Event, Act] = {
    Event.START_ESTIMATE: Act.ESTIMATE,
    Event.SEND_ESTIMATE: Act.ESTIMATE,
    Event.REVISE_ESTIMATE: Act.ESTIMATE,
    Event.APPROVE: Act.RECORD_APPROVAL,
    Event.START_WORK: Act.WORK_ON_BENCH,
    Event.WAIT: Act.KEEP_HOLDS,
    Event.RESUME: Act.WORK_ON_BENCH,
    Event.FINISH_WORK: Act.WORK_ON_BENCH,
    Event.FAIL_CHECK: Act.DO_FINAL_CHECK,
    Event.SIGN_OFF: Act.DO_FINAL_CHECK,
    Event.BACK_TO_BENCH: Act.WORK_ON_BENCH,
    Event.HAND_OVER: Act.HAND_OVER,
    Event.CALL_OFF: Act.CALL_OFF,
}

MOVES: dict[tuple[State, Event], State] = {
    (State.BOOKED_IN, Event.START_ESTIMATE): State.ESTIMATING,
    (State.BOOKED_IN, Event.START_WORK): State.ON_THE_BENCH,
    (State.BOOKED_IN, Event.CALL_OFF): State.CALLED_OFF,
    (State.ESTIMATING, Event.SEND_ESTIMATE): State.AWAITING_APPROVAL,
    (State.ESTIMATING, Event.CALL_OFF): State.CALLED_OFF,
    (State.AWAITING_APPROVAL, Event.APPROVE): State.ON_THE_BENCH,
    (State.AWAITING_APPROVAL, Event.REVISE_ESTIMATE): State.ESTIMATING,
    (State.AWAITING_APPROVAL, Event.CALL_OFF): State.CALLED_OFF,
    (State.ON_THE_BENCH, Event.WAIT): State.WAITING,
    (State.ON_THE_BENCH, Event.REVISE_ESTIMATE): State.ESTIMATING,
    (State.ON_THE_BENCH, Event.FINISH_WORK): State.FINAL_CHECK,
    (State.ON_THE_BENCH, Event.CALL_OFF): State.CALLED_OFF,
    (State.WAITING, Event.RESUME): State.ON_THE_BENCH,
    (State.WAITING, Event.REVISE_ESTIMATE): State.ESTIMATING,
    (State.WAITING, Event.CALL_OFF): State.CALLED_OFF,
    (State.FINAL_CHECK, Event.FAIL_CHECK): State.ON_THE_BENCH,
    (State.FINAL_CHECK, Event.SIGN_OFF): State.READY,
    (State.READY, Event.BACK_TO_BENCH): State.ON_THE_BENCH,
    (State.READY, Event.HAND_OVER): State.CLOSED,
}

NEEDS_REASON = frozenset(
    {
        Event.REVISE_ESTIMATE,
        Event.WAIT,
        Event.FAIL_CHECK,
        Event.BACK_TO_BENCH,
        Event.CALL_OFF,
    }
)


@dataclass(frozen=True, slots=True)
class Facts:
    """What a guard may look at.

    Parameters
    ----------
    reason : str
        Why the move is made, as the user wrote it.
    estimate_amount : Decimal or None
        The figure on the estimate that is about to go out or has gone out.
    approved_amount : Decimal or None
        What the customer has agreed to spend.
    approved_by_name : str
        Who agreed.
    blockers : tuple of str
        Reasons against calling the bike ready, from whoever registered one.
    unaccounted : tuple of str
        Parts taken off and outside work that nobody can account for yet.
    unfinished : tuple of str
        Tasks that are neither done nor dropped.
    """

    reason: str = ""
    estimate_amount: Decimal | None = None
    approved_amount: Decimal | None = None
    approved_by_name: str = ""
    blockers: tuple[str, ...] = ()
    unaccounted: tuple[str, ...] = ()
    unfinished: tuple[str, ...] = ()


Guard = Callable[[Facts], Refusal | None]


def _has_estimate(facts: Facts) -> Refusal | None:
    if facts.estimate_amount is None:
        return IllegalMove(
            "no-estimate",
            "The estimate has no figure yet. Enter the amount, then send it.",
            "estimate_amount",
        )
    return None


def _has_approval(facts: Facts) -> Refusal | None:
    if facts.approved_amount is None:
        return IllegalMove(
            "no-approval",
            "Nobody has agreed to pay for this yet. Record what the customer "
            "agreed to spend, or make an estimate first.",
            "approved_amount",
        )
    if not facts.approved_by_name.strip():
        return IllegalMove(
            "approver-missing",
            "Enter the name of the person who agreed.",
            "approved_by_name",
        )
    return None


def _all_done(facts: Facts) -> Refusal | None:
    if facts.unfinished:
        return IllegalMove(
            "tasks-unfinished",
            f"Still to do: {'; '.join(facts.unfinished)}. "
            "Finish each task or drop it with a reason.",
        )
    return None


def _accounted_for(facts: Facts) -> Refusal | None:
    if facts.unaccounted:
        return IllegalMove(
            "not-accounted-for",
            f"Not accounted for: {'; '.join(facts.unaccounted)}. Each part must be "
            "back on the bike, with the owner or scrapped with consent, and all "
            "outside work back with its cost, or dropped.",
        )
    return None


def _nothing_open(facts: Facts) -> Refusal | None:
    if facts.blockers:
        return IllegalMove("still-open", " ".join(facts.blockers))
    return None


GUARDS: dict[Event, tuple[Guard, ...]] = {
    Event.SEND_ESTIMATE: (_has_estimate,),
    Event.APPROVE: (_has_approval,),
    Event.START_WORK: (_has_approval,),
    Event.FINISH_WORK: (_all_done,),
    Event.SIGN_OFF: (_all_done, _nothing_open),
    Event.HAND_OVER: (_nothing_open, _accounted_for),
    Event.CALL_OFF: (_accounted_for,),
}

GUARDED_BY_ACCOUNT = frozenset(
    event for event, guards in GUARDS.items() if _accounted_for in guards
)
GUARDED_BY_BLOCKERS = frozenset(
    event for event, guards in GUARDS.items() if _nothing_open in guards
)


def moves_from(state: State) -> tuple[Event, ...]:
    """Return the events that the table knows from here, in the table's order.

    Examples
    --------
    >>> [event.value for event in moves_from(State.READY)]
    ['back_to_bench', 'hand_over']
    """
    return tuple(event for (old, event) in MOVES if old is state)


def next_state(state: State, event: Event, facts: Facts) -> State:
    """Return where the event leads.

    Raises
    ------
    IllegalMove
        Where the table has no such move, a reason is missing, or a guard refuses.

    Examples
    --------
    >>> next_state(State.WAITING, Event.RESUME, Facts()).value
    'on_the_bench'
    """
    target = MOVES.get((state, event))
    if target is None:
        raise IllegalMove(
            "illegal-move",
            f"“{EVENT_LABELS[event]}” is not possible while the work order is "
            f"{STATE_LABELS[state].lower()}. {_what_is_possible(state)}",
        )
    if event in NEEDS_REASON and not facts.reason.strip():
        raise IllegalMove("reason-missing", "Say why, in a few words.", "reason")
    for guard in GUARDS.get(event, ()):
        refusal = guard(facts)
        if refusal is not None:
            raise refusal
    return target


def _what_is_possible(state: State) -> str:
    events = moves_from(state)
    if not events:
        return "It has ended; book in a new work order instead."
    return "Possible now: " + ", ".join(EVENT_LABELS[e].lower() for e in events) + "."
