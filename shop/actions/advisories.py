"""What was noticed in passing: written down, told, made a task or declined."""

from datetime import datetime

from django.db import transaction

from shop.actions._rows import locked, open_work_order
from shop.actions.history import Happening, record
from shop.actions.tasks import plan_task
from shop.domain.advisories import (
    DECLINED_WHY,
    OUTCOME_LABELS,
    TOLD_HOW,
    URGENCY_LABELS,
    AdvisoryDetails,
    Outcome,
    Urgency,
)
from shop.domain.refusals import ConcurrentChange, IllegalMove, NotFound
from shop.domain.roles import Act
from shop.domain.tasks import TaskDetails
from shop.models import Advisory, Task, User


@transaction.atomic
def note_advisory(
    *, work_order_id: int, details: AdvisoryDetails, acting_user: User, at: datetime
) -> Advisory:
    """Write down what was noticed on a bike while at other work."""
    acting_user.demand(Act.EDIT_WORK_ORDER)
    tidy = details.checked()
    order = open_work_order(work_order_id)
    made = Advisory.objects.create(
        work_order=order,
        what=tidy.what,
        place=tidy.place,
        urgency=tidy.urgency,
        noticed_at=at,
        noticed_by=acting_user,
    )
    urgency = URGENCY_LABELS[Urgency(made.urgency)].lower()
    record(
        _told(made, "noticed", f"Noticed: {made.place}, {made.what} ({urgency})"),
        acting_user=acting_user,
        at=at,
    )
    return made


@transaction.atomic
def tell_advisory(
    *, advisory_id: int, how: str, acting_user: User, at: datetime
) -> Advisory:
    """Write down that the customer has been told, and how.

    Raises
    ------
    IllegalMove
        They have been told already.
    """
    acting_user.demand(Act.EDIT_WORK_ORDER)
    said = TOLD_HOW.clean(how)
    advisory = _advisory(advisory_id)
    told = Advisory.objects.filter(pk=advisory.pk, told_at__isnull=True)
    if told.update(told_at=at, told_by=acting_user, told_how=said) != 1:
        raise IllegalMove("told-already", "The customer has been told already.")
    record(
        _told(advisory, "told", f"Customer told: {advisory.what}", reason=said),
        acting_user=acting_user,
        at=at,
    )
    advisory.refresh_from_db()
    return advisory


@transaction.atomic
def make_advisory_a_task(
    *, advisory_id: int, details: TaskDetails, acting_user: User, at: datetime
) -> Task:
    """Plan a task that sees to what was noticed."""
    acting_user.demand(Act.PLAN_TASKS)
    advisory = _advisory(advisory_id)
    task = plan_task(
        work_order_id=advisory.work_order_id,
        details=details,
        acting_user=acting_user,
        at=at,
    )
    _settle(advisory, Outcome.TASK, task=task)
    record(
        _told(
            advisory,
            "made_a_task",
            f"Became a task: {advisory.what}",
            outcome=Outcome.TASK,
        ),
        acting_user=acting_user,
        at=at,
    )
    return task


@transaction.atomic
def decline_advisory(
    *, advisory_id: int, reason: str, acting_user: User, at: datetime
) -> Advisory:
    """Write down that it is left as it is, and why; the customer must know.

    Raises
    ------
    IllegalMove
        The customer has not been told, or it is settled already.
    """
    acting_user.demand(Act.EDIT_WORK_ORDER)
    why = DECLINED_WHY.clean(reason)
    advisory = _advisory(advisory_id)
    if advisory.told_at is None:
        raise IllegalMove(
            "not-told-yet", "Tell the customer first; it is theirs to decline."
        )
    _settle(advisory, Outcome.DECLINED, reason=why)
    record(
        _told(
            advisory,
            "declined",
            f"Left as it is: {advisory.what}",
            reason=why,
            outcome=Outcome.DECLINED,
        ),
        acting_user=acting_user,
        at=at,
    )
    advisory.refresh_from_db()
    return advisory


def _advisory(advisory_id: int) -> Advisory:
    known = Advisory.objects.filter(pk=advisory_id).first()
    if known is None:
        raise NotFound("advisory-not-found", "There is no such advisory.")
    open_work_order(known.work_order_id)
    return locked(
        Advisory.objects.all(), pk=advisory_id, field="advisory_id", name="advisory"
    )


def _settle(
    advisory: Advisory, outcome: Outcome, *, task: Task | None = None, reason: str = ""
) -> None:
    open_one = Advisory.objects.filter(pk=advisory.pk, outcome=Outcome.OPEN.value)
    if open_one.update(outcome=outcome.value, task=task, outcome_reason=reason) != 1:
        was = OUTCOME_LABELS[Outcome(advisory.outcome)].lower()
        raise ConcurrentChange(
            "advisory-settled", f"“{advisory.what}” is settled already: {was}."
        )


def _told(
    advisory: Advisory,
    verb: str,
    summary: str,
    *,
    reason: str = "",
    outcome: Outcome | None = None,
) -> Happening:
    return Happening(
        verb=f"advisory.{verb}",
        kind="advisory",
        subject_id=advisory.pk,
        work_order_id=advisory.work_order_id,
        summary=summary,
        reason=reason,
        old_state=Outcome.OPEN if outcome else None,
        new_state=outcome,
    )
