"""Making the small pictures that wait: claim, draw outside any transaction, hand in.

Any number of workers may do this at the same time. A claim is a conditional update;
the maker holds a lease, and only the holder can hand in. A worker that dies lets its
lease run out, and the sweep puts the photo back.
"""

import logging
from dataclasses import dataclass
from datetime import datetime
from secrets import token_hex

from django.db import transaction
from django.db.models import F

from shop import jobs
from shop.actions import _attachment_files as drawer
from shop.actions._attachment_subjects import order_of
from shop.actions.attachments import DRAIN
from shop.actions.history import Happening, record
from shop.domain.attachments import (
    LEASE,
    ThumbnailEvent,
    ThumbnailState,
    after_crash,
    after_error,
    moved,
    pause_after,
)
from shop.domain.pictures import SCREEN_SIDE, THUMBNAIL_SIDE, smaller
from shop.models import Attachment, User

logger = logging.getLogger(__name__)

_SIDES = (THUMBNAIL_SIDE, SCREEN_SIDE)


@dataclass(frozen=True, slots=True)
class _Claim:
    """One photo in the hands of one worker."""

    attachment_id: int
    owner: str
    file_name: str


def make_next(*, acting_user: User | None, at: datetime) -> bool:
    """Make the small pictures of the photo that has waited longest, if any waits."""
    claim = _claim(at)
    if claim is None:
        return False
    try:
        jpeg = drawer.take(claim.file_name)
        names = [
            drawer.put_small(smaller(jpeg, side), owner=claim.owner, side=side)
            for side in _SIDES
        ]
    except Exception:
        logger.exception("no small pictures of attachment %s", claim.attachment_id)
        _hand_back(claim, acting_user=acting_user, at=at)
    else:
        _hand_in(claim, thumbnail=names[0], screen=names[1])
    return True


def sweep(*, acting_user: User | None, at: datetime) -> int:
    """Put back what dead workers held, wake one worker if anything waits.

    Returns how many photos were put back or given up.
    """
    swept = sum(
        _take_back(row, acting_user=acting_user, at=at)
        for row in Attachment.objects.abandoned(at)
    )
    if Attachment.objects.due(at).exists():
        jobs.enqueue(DRAIN)
    return swept


def _claim(at: datetime) -> _Claim | None:
    """Take one waiting photo; try the next where another worker was quicker."""
    while (row := Attachment.objects.due(at).first()) is not None:
        owner = token_hex(16)
        # Durable: refuses to run inside a transaction, so none is drawn in one.
        with transaction.atomic(durable=True):
            taken = Attachment.objects.filter(
                pk=row.pk, thumbnail_state=ThumbnailState.QUEUED.value
            ).update(
                thumbnail_state=moved(
                    ThumbnailState.QUEUED, ThumbnailEvent.CLAIM
                ).value,
                lease_owner=owner,
                lease_until=at + LEASE,
                attempts=F("attempts") + 1,
            )
        if taken == 1:
            return _Claim(row.pk, owner, row.file_name)
    return None


def _hand_in(claim: _Claim, *, thumbnail: str, screen: str) -> None:
    held = Attachment.objects.held_by(claim.attachment_id, claim.owner)
    with transaction.atomic(durable=True):
        handed_in = held.update(
            thumbnail_state=moved(ThumbnailState.MAKING, ThumbnailEvent.FINISH).value,
            thumbnail_name=thumbnail,
            screen_name=screen,
            lease_owner="",
            lease_until=None,
        )
    if not handed_in:
        _discard(claim.owner)
        logger.warning("attachment %s went on to another worker", claim.attachment_id)


def _hand_back(claim: _Claim, *, acting_user: User | None, at: datetime) -> None:
    row = Attachment.objects.held_by(claim.attachment_id, claim.owner).first()
    if row is not None:
        row.errors += 1
        event = after_error(row.errors)
        row.not_before = at + pause_after(row.errors)
        _put_down(row, event, acting_user=acting_user, at=at)
    _discard(claim.owner)


def _take_back(row: Attachment, *, acting_user: User | None, at: datetime) -> int:
    row.crashes += 1
    row.not_before = at
    done = _put_down(row, after_crash(row.crashes), acting_user=acting_user, at=at)
    if done:
        _discard(row.lease_owner)
    return done


def _put_down(
    row: Attachment,
    event: ThumbnailEvent,
    *,
    acting_user: User | None,
    at: datetime,
) -> int:
    """Give a held photo back, unless it is somebody else's by now."""
    held = Attachment.objects.held_by(row.pk, row.lease_owner)
    with transaction.atomic(durable=True):
        done = held.filter(lease_until=row.lease_until).update(
            thumbnail_state=moved(ThumbnailState.MAKING, event).value,
            lease_owner="",
            lease_until=None,
            errors=row.errors,
            crashes=row.crashes,
            not_before=row.not_before,
        )
        if done and event is ThumbnailEvent.GIVE_UP:
            happening = Happening(
                verb="attachment.no_thumbnail",
                kind="attachment",
                subject_id=row.pk,
                summary="The small picture of a photo could not be made",
                work_order_id=order_of(row),
            )
            record(happening, acting_user=acting_user, at=at)
    return done


def _discard(owner: str) -> None:
    for side in _SIDES:
        drawer.discard_small(owner, side)
