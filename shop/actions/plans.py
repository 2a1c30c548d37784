"""Asking for a plan: a row first, and a worker woken on commit."""

from datetime import datetime

from django.db import IntegrityError, transaction

from shop import jobs
from shop.actions.history import Happening, record
from shop.domain.plans import REST, PlanState
from shop.domain.roles import Act
from shop.models import Plan, User
from shop.selectors.plan_staleness import is_out_of_date

WORK_OUT = "shop.work_out_plans"


def request_plan(*, acting_user: User, at: datetime) -> Plan:
    """Ask for the plan to be worked out anew; one that waits already will do.

    Raises
    ------
    NotAllowed
        The role may not plan work.
    """
    acting_user.demand(Act.PLAN_WORK)
    return _ask(acting_user=acting_user, at=at)


def renew_plan(*, acting_user: User | None, at: datetime) -> Plan | None:
    """Ask for a new plan where the last one is out of date and has rested a while."""
    last = Plan.objects.latest_first().first()
    if last is None or last.state in {PlanState.QUEUED, PlanState.WORKING}:
        return None
    if at - last.requested_at < REST or not is_out_of_date(last, at=at):
        return None
    return _ask(acting_user=acting_user, at=at)


def _ask(*, acting_user: User | None, at: datetime) -> Plan:
    try:
        with transaction.atomic():
            plan = Plan.objects.create(
                requested_by=acting_user,
                requested_at=at,
                not_before=at,
                seed=_seed(at),
            )
            record(
                Happening(
                    verb="plan.requested",
                    kind="plan",
                    subject_id=plan.pk,
                    summary="Plan of the shop asked for",
                ),
                acting_user=acting_user,
                at=at,
            )
    except IntegrityError:
        # The database lets one plan wait at a time, and that one has read nothing yet.
        plan = Plan.objects.in_state(PlanState.QUEUED).latest_first()[0]
    jobs.enqueue(WORK_OUT)
    return plan


def _seed(at: datetime) -> int:
    """Return the seed of a plan asked for now; it is kept, so it can be repeated."""
    return abs(int(at.timestamp()))
