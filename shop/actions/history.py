"""The history row that every action leaves behind."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from shop.models import HistoryEntry, User

BY_ITSELF = "Loomwright"


@dataclass(frozen=True, slots=True)
class Happening:
    """What happened, for machines (`verb`, `kind`) and for people (`summary`).

    Parameters
    ----------
    verb : str
        ``noun.done``: ``labour.added``.
    kind : str
        What it happened to: ``work_order``, ``customer``, ``case``.
    subject_id : int
        Which one.
    summary : str
        One line that a colleague understands a year later.
    work_order_id : int or None
        The work order whose time line shows it.
    """

    verb: str
    kind: str
    subject_id: int
    summary: str
    work_order_id: int | None = None
    reason: str = ""
    old_state: StrEnum | None = None
    new_state: StrEnum | None = None
    changes: Mapping[str, tuple[str, str]] | None = None


def record(
    happening: Happening, *, acting_user: User | None, at: datetime
) -> HistoryEntry:
    """Add the row; call it inside the action's transaction.

    `acting_user` is None where nobody of the shop acted: a customer through their
    link, or the shop's own worker.
    """
    return HistoryEntry.objects.create(
        at=at,
        actor=acting_user,
        actor_name=acting_user.name if acting_user else BY_ITSELF,
        verb=happening.verb,
        subject_kind=happening.kind,
        subject_id=happening.subject_id,
        work_order_id=happening.work_order_id,
        summary=happening.summary,
        reason=happening.reason,
        old_state=happening.old_state or "",
        new_state=happening.new_state or "",
        changes={name: list(pair) for name, pair in (happening.changes or {}).items()},
    )
