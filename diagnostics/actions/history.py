"""The history rows that the bench adds to a case and its work order."""

from datetime import datetime

from diagnostics.lifecycle import STATE_LABELS, CaseState
from diagnostics.models import Case
from shop.actions.history import Happening, record
from shop.models import User


def note_on_case(
    case: Case,
    *,
    verb: str,
    summary: str,
    acting_user: User,
    at: datetime,
    reason: str = "",
    to: CaseState | None = None,
) -> None:
    """Add what happened to a case to its work order's time line."""
    old = STATE_LABELS[CaseState(case.state)]
    record(
        Happening(
            verb=verb,
            kind="case",
            subject_id=case.pk,
            summary=summary,
            work_order_id=case.work_order_id,
            reason=reason.strip(),
            changes={"state": (old, STATE_LABELS[to])} if to is not None else None,
        ),
        acting_user=acting_user,
        at=at,
    )
