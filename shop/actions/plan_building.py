"""Working plans out: claim, reckon outside any transaction, hand in.

As with paper, any number of workers may do this at once: a claim is a conditional
update, and only who still holds the lease can hand in.
"""

import logging
from collections.abc import Callable
from datetime import datetime, timedelta
from secrets import token_hex
from typing import Any

import numpy as np
from django.db import transaction
from django.db.models import F

from shop import jobs
from shop.actions.history import Happening, record
from shop.actions.plans import WORK_OUT
from shop.domain.plans import (
    LEASE,
    PAUSE,
    PLAN_MOVES,
    PlanEvent,
    PlanState,
    after_try,
)
from shop.domain.promises import Foreseen, OrderOdds, foreseen
from shop.domain.week_loads import week_loads
from shop.models import Plan, PlanLine, User
from shop.selectors.plan_facts import PlanFacts, plan_facts

logger = logging.getLogger(__name__)

CUT_OFF = "The working out was cut off several times; try again, or read the log."

Clock = Callable[[], datetime]


def work_out_next(*, acting_user: User | None, at: datetime, clock: Clock) -> bool:
    """Work out the plan that has waited longest; say whether there was one."""
    plan = _claim(at)
    if plan is None:
        return False
    try:
        facts = plan_facts(at=at)
        lines, weeks = _reckoned(plan, facts)
    except Exception as fault:
        logger.exception("plan %s could not be worked out", plan.pk)
        reason = (
            f"Something went wrong while it was worked out ({type(fault).__name__}). "
            "Whoever looks after the service finds more in its log."
        )
        _hand_back(plan, reason, acting_user=acting_user, at=clock())
    else:
        _hand_in(plan, facts, lines, weeks, acting_user=acting_user, at=clock())
    return True


def sweep_plans(*, acting_user: User | None, at: datetime) -> int:
    """Put back what dead workers held, wake one worker if anything waits.

    Returns how many plans were put back or put aside.
    """
    swept = 0
    for plan in Plan.objects.abandoned(at):
        _hand_back(plan, CUT_OFF, acting_user=acting_user, at=at)
        swept += 1
    if Plan.objects.due(at).exists():
        jobs.enqueue(WORK_OUT)
    return swept


def _claim(at: datetime) -> Plan | None:
    while (plan := Plan.objects.due(at).first()) is not None:
        owner = token_hex(16)
        with transaction.atomic(durable=True):
            taken = Plan.objects.filter(
                pk=plan.pk, state=PlanState.QUEUED.value
            ).update(
                state=PLAN_MOVES[PlanState.QUEUED, PlanEvent.CLAIM].value,
                owner=owner,
                lease_until=at + LEASE,
                tries=F("tries") + 1,
            )
        if taken == 1:
            plan.refresh_from_db()
            return plan
    return None


def _reckoned(plan: Plan, facts: PlanFacts) -> tuple[list[PlanLine], list[Any]]:
    if not facts.orders:
        return [], []
    if not facts.days:
        return _nobody_there(plan, facts), []
    told = foreseen(
        facts.orders,
        days=facts.days,
        draws=plan.draws,
        chance=np.random.default_rng(plan.seed),
    )
    lines = [
        _line(plan, odds, facts, position)
        for position, odds in enumerate(told.odds, start=1)
    ]
    return lines, _weeks(facts, told)


def _nobody_there(plan: Plan, facts: PlanFacts) -> list[PlanLine]:
    """Return lines without a day: no technician has an account."""
    return [
        PlanLine(
            plan=plan,
            work_order_id=order.id,
            position=position,
            promised_on=facts.promised_on[order.id],
        )
        for position, order in enumerate(facts.orders, start=1)
    ]


def _line(plan: Plan, odds: OrderOdds, facts: PlanFacts, position: int) -> PlanLine:
    def on(day: int | None) -> Any:
        return None if day is None else facts.first + timedelta(days=day)

    return PlanLine(
        plan=plan,
        work_order_id=odds.order_id,
        position=position,
        even_on=on(odds.even_day),
        likely_on=on(odds.likely_day),
        nearly_certain_on=on(odds.nearly_certain_day),
        promised_on=facts.promised_on[odds.order_id],
        kept_percent=odds.kept_percent,
        path=list(odds.path),
        tasks=[
            {
                "task_id": task.task_id,
                "technician_id": task.technician_id,
                "critical_percent": task.critical_percent,
                "even_on": str(on(task.even_day)) if task.even_day is not None else "",
            }
            for task in odds.tasks
        ],
        waits=[
            {
                "what": thing.what,
                "expected_on": str(thing.expected_on or ""),
                "task_ids": list(thing.task_ids),
            }
            for thing in facts.awaited
            if thing.work_order_id == odds.order_id
        ],
    )


def _weeks(facts: PlanFacts, told: Foreseen) -> list[Any]:
    weekday = facts.first.weekday()
    monday = facts.first - timedelta(days=weekday)
    loads = week_loads(facts.orders, told, days=facts.days, first_weekday=weekday)
    return [
        {
            "technician_id": load.technician_id,
            "monday": str(monday + timedelta(weeks=load.week)),
            "there": load.minutes_there,
            "planned": load.minutes_planned,
            "promised": load.minutes_promised,
            "over": load.minutes_over,
            "orders": [list(pair) for pair in load.by_order],
        }
        for load in loads
    ]


def _hand_in(
    plan: Plan,
    facts: PlanFacts,
    lines: list[PlanLine],
    weeks: list[Any],
    *,
    acting_user: User | None,
    at: datetime,
) -> None:
    with transaction.atomic(durable=True):
        handed_in = Plan.objects.held_by(plan.pk, plan.owner).update(
            state=PLAN_MOVES[PlanState.WORKING, PlanEvent.FINISH].value,
            owner="",
            lease_until=None,
            computed_at=at,
            first_day=facts.first,
            last_history_id=facts.last_history_id,
            weeks=weeks,
            failure_reason="",
        )
        if not handed_in:
            logger.warning("plan %s went on to another worker", plan.pk)
            return
        PlanLine.objects.bulk_create(lines)
        # A plan is worked out, not written: the one before it is of no use to anybody.
        Plan.objects.superseded().delete()
        _note(plan, "plan.ready", f"Plan of {len(lines)} work orders", acting_user, at)


def _hand_back(
    plan: Plan, reason: str, *, acting_user: User | None, at: datetime
) -> None:
    event = after_try(plan.tries)
    if Plan.objects.in_state(PlanState.QUEUED).exists():
        # Another one waits already and will read the same facts.
        event = PlanEvent.PUT_ASIDE
    with transaction.atomic(durable=True):
        moved = Plan.objects.held_by(plan.pk, plan.owner).update(
            state=PLAN_MOVES[PlanState.WORKING, event].value,
            owner="",
            lease_until=None,
            not_before=at + PAUSE,
            failure_reason=reason,
        )
        if moved and event is PlanEvent.PUT_ASIDE:
            _note(plan, "plan.failed", "Plan could not be worked out", acting_user, at)


def _note(
    plan: Plan, verb: str, summary: str, acting_user: User | None, at: datetime
) -> None:
    record(
        Happening(verb=verb, kind="plan", subject_id=plan.pk, summary=summary),
        acting_user=acting_user,
        at=at,
    )
