"""A work order moved along its life."""

from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal

from django.db import transaction

from shop.actions._consequences import blockers, carry_through, unfinished
from shop.actions._holds import waiting_for
from shop.actions._rows import locked
from shop.actions._settled import unaccounted
from shop.actions.history import Happening, record
from shop.domain.lifecycle import (
    ENDED,
    EVENT_ACTS,
    EVENT_DONE,
    Event,
    Facts,
    State,
    next_state,
)
from shop.domain.money import round_money
from shop.domain.refusals import ConcurrentChange
from shop.domain.roles import Act
from shop.domain.work_orders import Particulars
from shop.models import ShopSettings, User, WorkOrder

NO_PARTICULARS = Particulars()


@dataclass(slots=True)
class _Effect:
    """What a move writes beside the state, and what it tells the time line."""

    columns: dict[str, object] = field(default_factory=dict)
    told: str = ""
    changes: dict[str, tuple[str, str]] = field(default_factory=dict)


@transaction.atomic
def move_work_order(
    *,
    work_order_id: int,
    event: Event,
    acting_user: User,
    at: datetime,
    particulars: Particulars = NO_PARTICULARS,
    seen_state: State | None = None,
) -> State:
    """Move a work order by one event and return its new state.

    `seen_state` is what the user saw when they decided; where it has changed since,
    nothing is done.

    Raises
    ------
    IllegalMove
        The life cycle has no such move, or a guard refuses it.
    ConcurrentChange
        Somebody else moved it first.
    """
    acting_user.demand(EVENT_ACTS[event])
    shop = ShopSettings.objects.current()
    given = particulars.checked(minor_digits=shop.minor_digits)
    if event is Event.START_WORK and given.approved_amount is not None:
        acting_user.demand(Act.RECORD_APPROVAL)
    order = locked(
        WorkOrder.objects.all(),
        pk=work_order_id,
        field="work_order_id",
        name="work order",
    )
    old = State(order.state)
    if seen_state is not None and seen_state is not old:
        raise _moved_already(order)
    facts = _facts(order, event, given)
    new = next_state(old, event, facts)
    effect = _effect(event, facts, given, shop)
    carry_through(order, event, new, given, acting_user=acting_user, at=at)
    moved = WorkOrder.objects.filter(pk=order.pk, state=old.value).update(
        state=new.value,
        state_since=at,
        waiting_for=waiting_for(order.pk),
        ended_at=at if new in ENDED else None,
        **effect.columns,
        **_stamps(order, event, effect, acting_user, at),
    )
    if moved != 1:
        raise _moved_already(order)
    record(
        Happening(
            verb=f"work_order.{event.value}",
            kind="work_order",
            subject_id=order.pk,
            work_order_id=order.pk,
            summary=f"{EVENT_DONE[event]}{effect.told}",
            reason=given.reason,
            old_state=old,
            new_state=new,
            changes=effect.changes,
        ),
        acting_user=acting_user,
        at=at,
    )
    return new


def _facts(order: WorkOrder, event: Event, given: Particulars) -> Facts:
    estimate = _first(given.estimate_amount, order.estimate_amount)
    approved, by_name = given.approved_amount, given.approved_by_name
    if event is Event.APPROVE:
        approved = _first(approved, order.estimate_amount)
    elif approved is None:
        approved, by_name = order.approved_amount, order.approved_by_name
    return Facts(
        reason=given.reason,
        estimate_amount=estimate,
        approved_amount=approved,
        approved_by_name=by_name,
        unaccounted=unaccounted(order, event),
        blockers=blockers(order, event),
        unfinished=unfinished(order, event),
    )


def _effect(
    event: Event, facts: Facts, given: Particulars, shop: ShopSettings
) -> _Effect:
    if event is Event.SEND_ESTIMATE:
        return _Effect(
            {
                "estimate_amount": facts.estimate_amount,
                "estimate_note": given.estimate_note,
            },
            told=f": {_shown(facts.estimate_amount, shop)}",
        )
    newly_agreed = event is Event.APPROVE or (
        event is Event.START_WORK and given.approved_amount is not None
    )
    if newly_agreed:
        return _Effect(
            {
                "approved_amount": facts.approved_amount,
                "approved_by_name": facts.approved_by_name,
                "approved_how": given.approved_how,
            },
            told=f": {_shown(facts.approved_amount, shop)}",
            # Not in the summary: not everybody may see customers' names.
            changes={"approved_by_name": ("", facts.approved_by_name)},
        )
    return _Effect()


def _stamps(
    order: WorkOrder, event: Event, effect: _Effect, acting_user: User, at: datetime
) -> dict[str, object]:
    stamps: dict[str, object] = {}
    if "approved_amount" in effect.columns:
        stamps["approved_at"] = at
    if event is Event.START_WORK and order.technician_id is None:
        stamps["technician"] = acting_user
    return stamps


def _first(*amounts: Decimal | None) -> Decimal | None:
    return next((amount for amount in amounts if amount is not None), None)


def _shown(amount: Decimal | None, shop: ShopSettings) -> str:
    if amount is None:
        return ""
    return f"{round_money(amount, minor_digits=shop.minor_digits):,} {shop.currency}"


def _moved_already(order: WorkOrder) -> ConcurrentChange:
    return ConcurrentChange(
        "moved-already",
        f"Somebody else moved {order.label} in the meantime. Look at it again.",
    )
