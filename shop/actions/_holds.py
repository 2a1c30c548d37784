"""Holds written and released inside an action that has locked the work order."""

from datetime import datetime

from shop.actions.history import Happening, record
from shop.domain.holds import (
    HOLD_LABELS,
    RELEASE_ACTS,
    HoldDetails,
    HoldReason,
    waiting_summary,
)
from shop.domain.refusals import IllegalMove
from shop.models import Hold, User, WorkOrder


def open_hold(
    order: WorkOrder, details: HoldDetails, *, acting_user: User, at: datetime
) -> Hold:
    """Write down a hold; the details must have been checked."""
    hold = Hold.objects.create(
        work_order=order,
        task_id=details.task_id,
        kind=details.kind,
        detail=details.detail,
        expected_on=details.expected_on,
        since=at,
        placed_by=acting_user,
    )
    record(_told(hold, "placed", "Held"), acting_user=acting_user, at=at)
    return hold


def release(hold: Hold, *, note: str, acting_user: User, at: datetime) -> None:
    """Release a hold once.

    Raises
    ------
    IllegalMove
        Somebody released it already.
    """
    released = Hold.objects.filter(pk=hold.pk).standing()
    if released.update(released_at=at, released_by=acting_user, release_note=note) != 1:
        raise IllegalMove(
            "hold-released", f"“{hold.detail}” is released already. Look at it again."
        )
    record(
        _told(hold, "released", "Released", note=note), acting_user=acting_user, at=at
    )
    hold.refresh_from_db()


def release_whole_bike(order: WorkOrder, *, acting_user: User, at: datetime) -> None:
    """Release what held the whole bike, because the work goes on.

    Raises
    ------
    NotAllowed
        One of them is not for this person to release.
    """
    for hold in Hold.objects.of_work_order(order.pk).standing().of_whole_bike():
        acting_user.demand(RELEASE_ACTS[HoldReason(hold.kind)])
        release(hold, note="", acting_user=acting_user, at=at)


def release_at_end(order: WorkOrder, *, acting_user: User, at: datetime) -> None:
    """Release every hold of a work order that has ended."""
    for hold in Hold.objects.of_work_order(order.pk).standing():
        release(hold, note="the work order ended", acting_user=acting_user, at=at)


def show_waiting(order: WorkOrder) -> None:
    """Write on the ticket what the whole bike still waits for."""
    order.waiting_for = waiting_for(order.pk)
    order.save(update_fields=["waiting_for"])


def waiting_for(work_order_id: int) -> str:
    """Return what the whole bike waits for, in one line."""
    held = Hold.objects.of_work_order(work_order_id).standing().of_whole_bike()
    return waiting_summary(held.values_list("detail", flat=True))


def _told(hold: Hold, verb: str, done: str, note: str = "") -> Happening:
    kind = HOLD_LABELS[HoldReason(hold.kind)].lower()
    what = f"{hold.task.operation}: " if hold.task else ""
    return Happening(
        verb=f"hold.{verb}",
        kind="hold",
        subject_id=hold.pk,
        work_order_id=hold.work_order_id,
        summary=f"{done} ({kind}): {what}{hold.detail}",
        reason=note,
    )
