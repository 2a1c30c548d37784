"""Outside work planned, sent, booked back with a check of each tag, or dropped."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from django.db import transaction

from shop.actions._details import details_of, put
from shop.actions._numbers import next_number
from shop.actions._outings import add_tags, check_in, send_tags
from shop.actions._rows import locked, minor_digits, open_work_order, tax_for_line
from shop.actions.history import Happening, record
from shop.domain.entries import altered, differences
from shop.domain.outside_work import (
    FIRST_NUMBER,
    OUTSIDE_STATE_LABELS,
    REASON,
    OutsideDetails,
    OutsideEvent,
    OutsideState,
    TagCheck,
    next_outside_state,
)
from shop.domain.refusals import ConcurrentChange, IllegalMove, NotFound, Refusal
from shop.domain.roles import Act
from shop.models import OutsideTag, OutsideWork, ShopSettings, Supplier, User


@dataclass(frozen=True, slots=True, kw_only=True)
class Dispatch:
    """When it leaves and when it is promised back; nothing said means today."""

    sent_on: date | None = None
    promised_on: date | None = None


LEAVES_TODAY = Dispatch()


@transaction.atomic
def plan_outside_work(
    *,
    work_order_id: int,
    details: OutsideDetails,
    acting_user: User,
    at: datetime,
    tag_ids: Sequence[int] = (),
    tax_rate_id: int | None = None,
) -> OutsideWork:
    """Plan work by a supplier for an open work order, with the tags that will go.

    Raises
    ------
    Refusal
        A row is unknown, an amount is none, or a tag goes somewhere else already.
    """
    acting_user.demand(Act.ARRANGE_OUTSIDE_WORK)
    tidy = details.checked(minor_digits=minor_digits())
    order = open_work_order(work_order_id)
    supplier = _supplier(tidy.supplier_id)
    tax = tax_for_line(tax_rate_id)
    work = OutsideWork.objects.create(
        number=next_number("outside_work", first=FIRST_NUMBER),
        work_order=order,
        state=OutsideState.PLANNED.value,
        state_since=at,
        tax_label=tax.label,
        tax_percent=tax.percent,
        made_by=acting_user,
        created_at=at,
        **asdict(tidy),
    )
    add_tags(work, tag_ids)
    _tell(work, "planned", f"{work} planned with {supplier.name}", acting_user, at)
    return work


@transaction.atomic
def edit_outside_work(
    *,
    outside_work_id: int,
    changes: Mapping[str, object],
    acting_user: User,
    at: datetime,
) -> OutsideWork:
    """Correct the words, days and amounts of outside work; `changes` is by field.

    Raises
    ------
    Refusal
        A value is wrong, or it has left and is with another supplier.
    """
    acting_user.demand(Act.ARRANGE_OUTSIDE_WORK)
    work = _locked(outside_work_id)
    old = details_of(work, OutsideDetails)
    new = altered(old, changes).checked(minor_digits=minor_digits())
    found = differences(old, new)
    if not found:
        return work
    if "supplier_id" in found:
        _may_change_supplier(work)
        _supplier(new.supplier_id)
    put(work, new, found)
    _tell(work, "edited", f"{work} corrected", acting_user, at, changes=found)
    return work


@transaction.atomic
def choose_tags(
    *, outside_work_id: int, tag_ids: Sequence[int], acting_user: User, at: datetime
) -> OutsideWork:
    """Choose anew which tags will go, while it is planned."""
    acting_user.demand(Act.ARRANGE_OUTSIDE_WORK)
    work = _locked(outside_work_id)
    if work.state != OutsideState.PLANNED.value:
        raise IllegalMove(
            "left-already", f"{work.label} has left; its tags cannot be chosen anew."
        )
    OutsideTag.objects.of_outside_work(work.pk).still_to_come().delete()
    tags = add_tags(work, tag_ids)
    _tell(work, "tags_chosen", f"{work}: {len(tags)} tags chosen", acting_user, at)
    return work


@transaction.atomic
def send_outside_work(
    *,
    outside_work_id: int,
    acting_user: User,
    at: datetime,
    dispatch: Dispatch = LEAVES_TODAY,
) -> OutsideWork:
    """Send it out: its tags are at the supplier from now on.

    Raises
    ------
    IllegalMove
        It is not planned any more, or one of its tags is not on the shelf.
    """
    acting_user.demand(Act.ARRANGE_OUTSIDE_WORK)
    work = _locked(outside_work_id)
    days = _days(work, dispatch, at)
    tags = send_tags(work, acting_user=acting_user, at=at)
    _move(work, OutsideEvent.SEND, at, back_on=None, **days)
    _tell(
        work,
        "sent",
        f"{work} sent to {work.supplier.name} with {_so_many(len(tags))}",
        acting_user,
        at,
    )
    return work


@transaction.atomic
def book_back(
    *,
    outside_work_id: int,
    checks: Sequence[TagCheck],
    acting_user: User,
    at: datetime,
) -> OutsideWork:
    """Book back what has come, each tag with its check; the rest stays away.

    Raises
    ------
    Refusal
        It is not away, a tag is not checked, or a check lacks its note.
    """
    acting_user.demand(Act.KEEP_TAGS)
    work = _locked(outside_work_id)
    next_outside_state(OutsideState(work.state), OutsideEvent.BRING_BACK)
    came = check_in(work, [c.checked() for c in checks], acting_user=acting_user, at=at)
    missing = OutsideTag.objects.of_outside_work(work.pk).still_to_come().count()
    if missing:
        summary = f"{work}: {_so_many(came)} back, {missing} still away"
        _tell(work, "part_back", summary, acting_user, at)
        return work
    _move(work, OutsideEvent.BRING_BACK, at, back_on=_today(at))
    _tell(work, "back", f"{work} back from {work.supplier.name}", acting_user, at)
    return work


@transaction.atomic
def send_again(
    *,
    outside_work_id: int,
    tag_ids: Sequence[int],
    reason: str,
    acting_user: User,
    at: datetime,
    dispatch: Dispatch = LEAVES_TODAY,
) -> OutsideWork:
    """Send it to the same supplier again, since it did not come back good."""
    acting_user.demand(Act.ARRANGE_OUTSIDE_WORK)
    why = REASON.clean(reason)
    work = _locked(outside_work_id)
    days = _days(work, dispatch, at)
    next_outside_state(OutsideState(work.state), OutsideEvent.SEND_AGAIN)
    add_tags(work, tag_ids)
    tags = send_tags(work, acting_user=acting_user, at=at)
    _move(work, OutsideEvent.SEND_AGAIN, at, back_on=None, **days)
    summary = f"{work} sent to {work.supplier.name} again with {_so_many(len(tags))}"
    _tell(work, "sent_again", summary, acting_user, at, reason=why)
    return work


@transaction.atomic
def drop_outside_work(
    *, outside_work_id: int, reason: str, acting_user: User, at: datetime
) -> OutsideWork:
    """Drop work that has not left; nothing is paid for it."""
    acting_user.demand(Act.ARRANGE_OUTSIDE_WORK)
    why = REASON.clean(reason)
    work = _locked(outside_work_id)
    _move(work, OutsideEvent.DROP, at)
    OutsideTag.objects.of_outside_work(work.pk).still_to_come().delete()
    _tell(work, "dropped", f"{work} dropped", acting_user, at, reason=why)
    return work


def _locked(outside_work_id: int) -> OutsideWork:
    work = locked(
        OutsideWork.objects.all(),
        pk=outside_work_id,
        field="outside_work_id",
        name="outside work",
    )
    open_work_order(work.work_order_id)
    return work


def _supplier(supplier_id: int) -> Supplier:
    supplier = Supplier.objects.in_use().filter(pk=supplier_id).first()
    if supplier is None:
        raise NotFound(
            "supplier-not-found", "There is no such supplier in use.", "supplier_id"
        )
    return supplier


def _may_change_supplier(work: OutsideWork) -> None:
    if work.state != OutsideState.PLANNED.value:
        raise IllegalMove(
            "left-already",
            f"{work.label} is {OUTSIDE_STATE_LABELS[OutsideState(work.state)].lower()}"
            "; who does it can no longer change.",
            "supplier_id",
        )


def _move(
    work: OutsideWork, event: OutsideEvent, at: datetime, **columns: object
) -> None:
    old = OutsideState(work.state)
    new = next_outside_state(old, event)
    moved = OutsideWork.objects.filter(pk=work.pk, state=old.value).update(
        state=new.value, state_since=at, **columns
    )
    if moved != 1:
        raise ConcurrentChange(
            "moved-already",
            f"Somebody else has just moved {work.label}. Look at it again.",
        )
    work.refresh_from_db()


def _days(work: OutsideWork, dispatch: Dispatch, at: datetime) -> dict[str, object]:
    today = _today(at)
    sent_on = dispatch.sent_on or today
    promised_on = dispatch.promised_on or work.promised_on
    if sent_on > today:
        raise Refusal("day-in-future", "It cannot have left after today.", "sent_on")
    if promised_on is not None and promised_on < sent_on:
        raise Refusal(
            "promised-before-sent",
            "It cannot be promised back before it leaves.",
            "promised_on",
        )
    return {"sent_on": sent_on, "promised_on": promised_on}


def _today(at: datetime) -> date:
    return at.astimezone(ZoneInfo(ShopSettings.objects.current().time_zone)).date()


def _so_many(count: int) -> str:
    return f"{count} tag" if count == 1 else f"{count} tags"


def _tell(
    work: OutsideWork,
    done: str,
    summary: str,
    acting_user: User,
    at: datetime,
    *,
    reason: str = "",
    changes: Mapping[str, tuple[str, str]] | None = None,
) -> None:
    happening = Happening(
        verb=f"outside_work.{done}",
        kind="outside_work",
        subject_id=work.pk,
        work_order_id=work.work_order_id,
        summary=summary,
        reason=reason,
        changes=changes,
    )
    record(happening, acting_user=acting_user, at=at)
