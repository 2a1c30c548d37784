"""The life of a case: one table of states and events, and what each state takes."""

from enum import StrEnum

from shop.domain.refusals import IllegalMove


class CaseState(StrEnum):
    """Where a fault hunt stands."""

    OPEN = "open"
    REPAIRED = "repaired"
    PROVEN = "proven"
    GIVEN_UP = "given-up"


class CaseEvent(StrEnum):
    """What can happen to a fault hunt as a whole."""

    RECORD_REPAIR = "record-repair"
    PROVE = "prove"
    GIVE_UP = "give-up"
    REOPEN = "reopen"


class Origin(StrEnum):
    """Why a finding was taken."""

    COMPLAINT = "complaint"
    ADVISED = "advised"
    FREE = "free"
    RETEST = "retest"


STATE_LABELS = {
    CaseState.OPEN: "Open",
    CaseState.REPAIRED: "Repaired, proof wanted",
    CaseState.PROVEN: "Repaired and proven",
    CaseState.GIVEN_UP: "Given up",
}

ORIGIN_LABELS = {
    Origin.COMPLAINT: "complaint",
    Origin.ADVISED: "advised test",
    Origin.FREE: "own test",
    Origin.RETEST: "taken again after the repair",
}

# A repair that did not cure leads back to OPEN: the loom is then a different
# one, and only what is read from then on counts.
TRANSITIONS: dict[tuple[CaseState, CaseEvent], CaseState] = {
    (CaseState.OPEN, CaseEvent.RECORD_REPAIR): CaseState.REPAIRED,
    (CaseState.OPEN, CaseEvent.GIVE_UP): CaseState.GIVEN_UP,
    (CaseState.REPAIRED, CaseEvent.RECORD_REPAIR): CaseState.REPAIRED,
    (CaseState.REPAIRED, CaseEvent.PROVE): CaseState.PROVEN,
    (CaseState.REPAIRED, CaseEvent.REOPEN): CaseState.OPEN,
    (CaseState.REPAIRED, CaseEvent.GIVE_UP): CaseState.GIVEN_UP,
    (CaseState.PROVEN, CaseEvent.REOPEN): CaseState.OPEN,
    (CaseState.GIVEN_UP, CaseEvent.REOPEN): CaseState.OPEN,
}

TAKES: dict[CaseState, frozenset[Origin]] = {
    CaseState.OPEN: frozenset({Origin.COMPLAINT, Origin.ADVISED, Origin.FREE}),
    CaseState.REPAIRED: frozenset({Origin.RETEST}),
    CaseState.PROVEN: frozenset(),
    CaseState.GIVEN_UP: frozenset(),
}

UNFINISHED = frozenset({CaseState.OPEN, CaseState.REPAIRED})
NEEDS_REASON = frozenset({CaseEvent.GIVE_UP, CaseEvent.REOPEN})


def next_state(state: CaseState, event: CaseEvent, *, reason: str = "") -> CaseState:
    """Return where an event leads.

    Raises
    ------
    IllegalMove
        Where the table has no such move, or the move wants a reason and has none.

    Examples
    --------
    >>> next_state(CaseState.REPAIRED, CaseEvent.PROVE).value
    'proven'
    """
    target = TRANSITIONS.get((state, event))
    if target is None:
        raise IllegalMove("illegal-move", _REFUSALS[state])
    if event in NEEDS_REASON and not reason.strip():
        raise IllegalMove("reason-missing", "Say why, in a few words.", "reason")
    return target


def events_open_to(state: CaseState) -> tuple[CaseEvent, ...]:
    """Return the events a case in this state can go through, in table order."""
    return tuple(event for (old, event) in TRANSITIONS if old == state)


def demand_taken(state: CaseState, origin: Origin) -> None:
    """Refuse a finding that a case in this state does not take.

    Raises
    ------
    IllegalMove
        Says which kind of finding it takes now, or what opens it again.
    """
    if origin not in TAKES[state]:
        raise IllegalMove("finding-not-now", _REFUSALS[state])


def demand_unfinished(state: CaseState) -> None:
    """Refuse a change to a case that is proven or given up.

    Raises
    ------
    IllegalMove
        Says what opens it again.
    """
    if state not in UNFINISHED:
        raise IllegalMove("case-finished", _REFUSALS[state])


_REFUSALS = {
    CaseState.OPEN: "No repair is recorded yet. Record the repair first, then take "
    "the failed tests again as its proof.",
    CaseState.REPAIRED: "A repair is recorded. Take the failed tests again as its "
    "proof, or reopen the case to go on looking.",
    CaseState.PROVEN: "The repair is proven and the case is closed. Reopen it, with "
    "the reason, if the fault has come back.",
    CaseState.GIVEN_UP: "The case was given up. Reopen it, with the reason, to go on.",
}
