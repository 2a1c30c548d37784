"""The life of a case: one table of states and events, and what each state takes."""

from enum import StrEnum


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


STATE_WORDS = {
    CaseState.OPEN: "Open",
    CaseState.REPAIRED: "Repaired, proof wanted",
    CaseState.PROVEN: "Repaired and proven",
    CaseState.GIVEN_UP: "Given up",
}

ORIGIN_WORDS = {
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


def next_state(state: CaseState, event: CaseEvent) -> CaseState | None:
    """Return the state an event leads to, or None where it cannot happen."""
    return TRANSITIONS.get((state, event))


def events_open_to(state: CaseState) -> tuple[CaseEvent, ...]:
    """Return the events a case in this state can go through, in table order."""
    return tuple(event for (old, event) in TRANSITIONS if old == state)
