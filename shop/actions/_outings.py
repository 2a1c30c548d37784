"""Tags that go out with a piece of outside work and come back from it."""

from collections.abc import Sequence
from datetime import datetime

from shop.actions._rows import locked
from shop.actions._tags import TagMove, move_tag
from shop.domain.outside_work import MOST_TAGS, CheckResult, TagCheck
from shop.domain.refusals import IllegalMove, NotFound, Refusal
from shop.domain.strip_tags import Consent, TagEvent
from shop.models import OutsideTag, OutsideWork, StripTag, User

_EVENTS = {
    CheckResult.GOOD: TagEvent.COME_BACK,
    CheckResult.NOT_GOOD: TagEvent.COME_BACK,
    CheckResult.LOST: TagEvent.WRITE_OFF,
}


def add_tags(work: OutsideWork, tag_ids: Sequence[int]) -> tuple[StripTag, ...]:
    """Put tags of the same work order on a piece of outside work.

    Raises
    ------
    Refusal
        One is unknown, of another bike, or goes somewhere else already.
    """
    wanted = sorted(set(tag_ids))
    if len(wanted) > MOST_TAGS:
        raise Refusal(
            "too-many-tags", f"At most {MOST_TAGS} tags go out at once.", "tag_ids"
        )
    tags = tuple(
        StripTag.objects.of_work_order(work.work_order_id)
        .filter(pk__in=wanted)
        .by_number()
    )
    if len(tags) != len(wanted):
        raise NotFound(
            "tag-not-found",
            "One of the tags is not of this work order. Look at the list again.",
            "tag_ids",
        )
    taken = (
        OutsideTag.objects.still_to_come()
        .filter(tag__in=tags)
        .select_related("tag", "outside_work")
        .first()
    )
    if taken is not None:
        raise IllegalMove(
            "tag-goes-elsewhere",
            f"{taken.tag} goes out with {taken.outside_work.label} already.",
            "tag_ids",
        )
    OutsideTag.objects.bulk_create(
        OutsideTag(outside_work=work, tag=tag) for tag in tags
    )
    return tags


def send_tags(
    work: OutsideWork, *, acting_user: User, at: datetime
) -> tuple[StripTag, ...]:
    """Move the tags that wait on it to the supplier."""
    waiting = OutsideTag.objects.of_outside_work(work.pk).still_to_come()
    move = TagMove(
        event=TagEvent.SEND_OUT,
        supplier_id=work.supplier_id,
        told=f": {work.supplier.name}",
    )
    tags = tuple(_tag(outing) for outing in waiting)
    for tag in tags:
        _move(tag, move, acting_user, at)
    return tags


def check_in(
    work: OutsideWork, checks: Sequence[TagCheck], *, acting_user: User, at: datetime
) -> int:
    """Book back the checked tags and say how many came.

    Raises
    ------
    Refusal
        A tag that is away has no check, or one that is not away has.
    """
    away = {
        outing.tag_id: outing
        for outing in OutsideTag.objects.of_outside_work(work.pk).still_to_come()
    }
    if {check.tag_id for check in checks} != set(away) or len(checks) != len(away):
        raise Refusal(
            "checks-incomplete",
            "Say of each tag that went out whether it is back and good, back but not "
            "good, lost, or still away.",
            "checks",
        )
    came = 0
    for check in checks:
        result = CheckResult(check.result)
        if result is CheckResult.STILL_AWAY:
            continue
        _book(away[check.tag_id], check, result, acting_user, at)
        came += 1
    return came


def _book(
    outing: OutsideTag,
    check: TagCheck,
    result: CheckResult,
    acting_user: User,
    at: datetime,
) -> None:
    tag = _tag(outing)
    note = f": {check.note}" if check.note else ""
    move = TagMove(
        event=_EVENTS[result],
        reason=check.note,
        shelf=check.shelf,
        consent=Consent(by_name=check.consent_by_name.strip(), how="told of the loss")
        if result is CheckResult.LOST
        else Consent(),
        told=f"{', not good' if result is CheckResult.NOT_GOOD else ''}{note}",
    )
    _move(tag, move, acting_user, at)
    outing.result = result.value
    outing.note = check.note
    outing.checked_by = acting_user
    outing.checked_at = at
    outing.save(update_fields=["result", "note", "checked_by", "checked_at"])


def _move(tag: StripTag, move: TagMove, acting_user: User, at: datetime) -> None:
    try:
        move_tag(tag, move, acting_user=acting_user, at=at)
    except IllegalMove as refusal:
        raise IllegalMove(refusal.code, f"{tag}: {refusal.message}") from refusal


def _tag(outing: OutsideTag) -> StripTag:
    return locked(
        StripTag.objects.all(), pk=outing.tag_id, field="tag_id", name="strip tag"
    )
