"""What an action writes down of the engine's conclusion, inside its transaction."""

from datetime import datetime

import harness
from diagnostics.engine import Conclusion
from diagnostics.models import Belief, Case, Finding, FindingVoid, Repair


def hold_belief(
    *,
    case: Case,
    step: int,
    conclusion: Conclusion,
    cause: Finding | FindingVoid | Repair | None,
    at: datetime,
) -> Belief:
    """Store what is believed from this step on, and what led to it."""
    return Belief.objects.create(
        case=case,
        step=step,
        finding=cause if isinstance(cause, Finding) else None,
        void=cause if isinstance(cause, FindingVoid) else None,
        repair=cause if isinstance(cause, Repair) else None,
        faults=conclusion.faults,
        segments=conclusion.segments,
        advice=conclusion.advice,
        conflict=conclusion.conflict,
        isolated=conclusion.isolated,
        confirming=conclusion.confirming,
        stopping=conclusion.stopping,
        engine=harness.__version__,
        held_at=at,
    )
