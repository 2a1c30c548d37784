"""A strip tag moved: what the bench and outside work have in common."""

from dataclasses import dataclass
from datetime import datetime

from shop.actions.history import Happening, record
from shop.domain.refusals import ConcurrentChange
from shop.domain.strip_tags import (
    NO_CONSENT,
    TAG_EVENT_DONE,
    TAG_STATE_LABELS,
    Consent,
    TagEvent,
    TagFate,
    TagState,
    next_tag_state,
)
from shop.models import StripTag, User


@dataclass(frozen=True, slots=True, kw_only=True)
class TagMove:
    """One event and what goes with it.

    Parameters
    ----------
    shelf : str
        Where it lies from now on; empty leaves the shelf as it is.
    supplier_id : int or None
        Who has it from now on.
    told : str
        What the history adds, such as a supplier's name.
    """

    event: TagEvent
    reason: str = ""
    shelf: str = ""
    consent: Consent = NO_CONSENT
    supplier_id: int | None = None
    told: str = ""


def move_tag(
    tag: StripTag, move: TagMove, *, acting_user: User, at: datetime
) -> TagState:
    """Move a tag that is locked, and write its history row.

    Raises
    ------
    IllegalMove
        The table has no such move, or something is missing.
    ConcurrentChange
        Somebody else moved it first.
    """
    old = TagState(tag.state)
    consent = move.consent if move.consent.by_name else _given(tag)
    new = next_tag_state(
        old,
        move.event,
        fate=TagFate(tag.fate),
        consent=consent,
        reason=move.reason,
    )
    columns: dict[str, object] = {
        "state": new.value,
        "state_since": at,
        "supplier_id": move.supplier_id,
    }
    if move.shelf:
        columns["shelf"] = move.shelf
    if new is TagState.SCRAPPED and not tag.consent_by_name:
        columns |= consent_columns(consent, at)
    moved = StripTag.objects.filter(pk=tag.pk, state=old.value).update(**columns)
    if moved != 1:
        raise ConcurrentChange(
            "moved-already", f"Somebody else has just moved {tag}. Look at it again."
        )
    record(
        _told(tag, move, old, new),
        acting_user=acting_user,
        at=at,
    )
    return new


def consent_columns(consent: Consent, at: datetime | None) -> dict[str, object]:
    """Return the columns that hold who agreed, how and when."""
    return {
        "consent_by_name": consent.by_name,
        "consent_how": consent.how,
        "consent_at": at,
    }


def _given(tag: StripTag) -> Consent:
    return Consent(by_name=tag.consent_by_name, how=tag.consent_how)


def _told(tag: StripTag, move: TagMove, old: TagState, new: TagState) -> Happening:
    changes = {"state": (TAG_STATE_LABELS[old], TAG_STATE_LABELS[new])}
    if move.shelf and move.shelf != tag.shelf:
        changes["shelf"] = (tag.shelf, move.shelf)
    if move.consent.by_name:
        changes["consent_by_name"] = ("", move.consent.by_name)
    return Happening(
        verb=f"strip_tag.{move.event.value}",
        kind="strip_tag",
        subject_id=tag.pk,
        work_order_id=tag.work_order_id,
        summary=f"{tag} {TAG_EVENT_DONE[move.event]}{move.told}",
        reason=move.reason,
        changes=changes,
    )
