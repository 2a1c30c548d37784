"""The final check: points ticked on a bike, and the shop's own list of them."""

from datetime import datetime

from django.db import transaction
from django.db.models import Max

from shop.actions._rows import locked, open_work_order
from shop.actions.history import Happening, record
from shop.domain.check_lists import (
    ANSWER_LABELS,
    CAUTION,
    NOTE,
    POINT,
    Answer,
    check_answer,
)
from shop.domain.lifecycle import STATE_LABELS, State
from shop.domain.refusals import ConcurrentChange, IllegalMove, NotFound
from shop.domain.roles import Act
from shop.models import CheckItem, CheckPoint, User


@transaction.atomic
def answer_check(
    *,
    item_id: int,
    answer: Answer,
    acting_user: User,
    at: datetime,
    note: str = "",
    seen_answer: Answer | None = None,
) -> CheckItem:
    """Say what was found at one point of the final check.

    Raises
    ------
    IllegalMove
        The bike is not in its final check, or this round went back to the bench.
    ConcurrentChange
        Somebody else answered the point since it was seen.
    """
    acting_user.demand(Act.DO_FINAL_CHECK)
    said = NOTE.clean(note)
    check_answer(answer, said)
    known = CheckItem.objects.select_related("check_list").filter(pk=item_id).first()
    if known is None:
        raise NotFound("check-item-not-found", "There is no such point.", "item_id")
    order = open_work_order(known.check_list.work_order_id)
    if order.state != State.FINAL_CHECK.value or known.check_list.ended_at:
        raise IllegalMove(
            "not-in-final-check",
            "Points are ticked while the bike is in its final check; "
            f"{order.label} is {STATE_LABELS[State(order.state)].lower()}.",
        )
    item = locked(CheckItem.objects.all(), pk=item_id, field="item_id", name="point")
    old = Answer(item.answer)
    if seen_answer is not None and seen_answer is not old:
        raise ConcurrentChange(
            "answered-already",
            f"Somebody else answered “{item.text}” in the meantime: "
            f"{ANSWER_LABELS[old].lower()}. Look at it again.",
        )
    if (old, item.note) == (answer, said):
        return item
    is_open = answer is Answer.OPEN
    item.answer, item.note = answer.value, said
    item.answered_by, item.answered_at = (None, None) if is_open else (acting_user, at)
    item.save(update_fields=["answer", "note", "answered_by", "answered_at"])
    record(
        Happening(
            verb="check_item.answered",
            kind="check_item",
            subject_id=item.pk,
            work_order_id=order.pk,
            summary=f"Final check, {item.text}: {ANSWER_LABELS[answer].lower()}",
            reason=said,
            old_state=old,
            new_state=answer,
        ),
        acting_user=acting_user,
        at=at,
    )
    return item


@transaction.atomic
def add_check_point(
    *, text: str, acting_user: User, at: datetime, caution: str = ""
) -> CheckPoint:
    """Put a point at the end of the shop's final check."""
    acting_user.demand(Act.KEEP_TEMPLATES)
    words, careful = POINT.clean(text), CAUTION.clean(caution)
    last = CheckPoint.objects.aggregate(last=Max("position"))["last"] or 0
    point = CheckPoint.objects.create(position=last + 1, text=words, caution=careful)
    record(
        _told(point, "added", f"Final check has a new point: {point.text}"),
        acting_user=acting_user,
        at=at,
    )
    return point


@transaction.atomic
def edit_check_point(
    *, point_id: int, text: str, caution: str, acting_user: User, at: datetime
) -> CheckPoint:
    """Put a point into other words; rounds that have begun keep theirs."""
    acting_user.demand(Act.KEEP_TEMPLATES)
    point = _point(point_id)
    before = point.text
    point.text, point.caution = POINT.clean(text), CAUTION.clean(caution)
    point.save(update_fields=["text", "caution"])
    record(
        _told(
            point,
            "edited",
            f"Point of the final check reworded: {point.text}",
            changes={"text": (before, point.text)} if before != point.text else None,
        ),
        acting_user=acting_user,
        at=at,
    )
    return point


@transaction.atomic
def retire_check_point(*, point_id: int, acting_user: User, at: datetime) -> CheckPoint:
    """Take a point off the shop's final check; rounds that have begun keep it."""
    acting_user.demand(Act.KEEP_TEMPLATES)
    point = _point(point_id)
    if point.retired_at is not None:
        raise IllegalMove("point-retired", "This point is off the list already.")
    point.retired_at = at
    point.save(update_fields=["retired_at"])
    record(
        _told(point, "retired", f"Point of the final check dropped: {point.text}"),
        acting_user=acting_user,
        at=at,
    )
    return point


def _point(point_id: int) -> CheckPoint:
    return locked(
        CheckPoint.objects.all(), pk=point_id, field="point_id", name="check point"
    )


def _told(
    point: CheckPoint,
    verb: str,
    summary: str,
    *,
    changes: dict[str, tuple[str, str]] | None = None,
) -> Happening:
    return Happening(
        verb=f"check_point.{verb}",
        kind="check_point",
        subject_id=point.pk,
        summary=summary,
        changes=changes,
    )
