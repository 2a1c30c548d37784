"""Hours booked on a work order, and struck out again with a reason."""

from datetime import date, datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

from django.db import transaction

from shop.actions._labour_lines import Booking, rate_for, write_line
from shop.actions._rows import locked, open_work_order, tax_for_line
from shop.actions.history import Happening, record
from shop.domain.entries import VOID_REASON
from shop.domain.labour import LabourEntry, hours_and_minutes
from shop.domain.refusals import IllegalMove, NotFound, Refusal
from shop.domain.roles import PERMISSIONS, Act, Role
from shop.models import LabourLine, ShopSettings, Task, User, WorkOrder
from shop.models.columns import row_id


@transaction.atomic
def add_labour(
    *, work_order_id: int, entry: LabourEntry, acting_user: User, at: datetime
) -> LabourLine:
    """Book time by hand on an open work order, at the rate that holds today.

    Raises
    ------
    NotAllowed
        Time of somebody else, or a rate of one's own choice, without the right to it.
    IllegalMove
        The work order has ended.
    """
    technician = _technician(entry, acting_user)
    shop = ShopSettings.objects.current()
    tidy = entry.checked(minor_digits=shop.minor_digits)
    order = open_work_order(work_order_id)
    return write_line(
        Booking(
            order=order,
            technician=technician,
            kind=tidy.kind,
            description=tidy.description,
            done_on=_day(tidy.done_on, at=at, time_zone=shop.time_zone),
            minutes=tidy.minutes,
            hourly_rate=_rate(tidy, technician, shop),
            tax=tax_for_line(tidy.tax_rate_id),
            billing=tidy.billing,
            task_id=_task_id(tidy, order),
            entry_reason=tidy.reason,
        ),
        acting_user=acting_user,
        at=at,
    )


@transaction.atomic
def void_labour(
    *, line_id: int, reason: str, acting_user: User, at: datetime
) -> LabourLine:
    """Strike out a labour line of an open work order, with the reason.

    Raises
    ------
    Refusal
        No reason is given, the line is void already, or the work order has ended.
    """
    why = VOID_REASON.clean(reason)
    line = locked(
        LabourLine.objects.all(), pk=line_id, field="line_id", name="labour line"
    )
    acting_user.demand(
        Act.BOOK_LABOUR
        if line.technician_id == acting_user.pk
        else Act.BOOK_LABOUR_FOR_OTHERS
    )
    order = open_work_order(line.work_order_id)
    struck = LabourLine.objects.filter(pk=line.pk).standing()
    if struck.update(voided_at=at, voided_by=acting_user, void_reason=why) != 1:
        raise IllegalMove("line-void", "This labour line is struck out already.")
    record(
        Happening(
            verb="labour.voided",
            kind="labour_line",
            subject_id=line.pk,
            work_order_id=order.pk,
            summary=(
                f"{hours_and_minutes(line.minutes)} of {line.technician_name} "
                f"struck out: {line.description}"
            ),
            reason=why,
        ),
        acting_user=acting_user,
        at=at,
    )
    line.refresh_from_db()
    return line


def _technician(entry: LabourEntry, acting_user: User) -> User:
    if entry.hourly_rate is not None:
        acting_user.demand(Act.BOOK_LABOUR_FOR_OTHERS)
    if entry.technician_id in {None, acting_user.pk}:
        acting_user.demand(Act.BOOK_LABOUR)
        return acting_user
    acting_user.demand(Act.BOOK_LABOUR_FOR_OTHERS)
    roles = [role for role in Role if Act.BOOK_LABOUR in PERMISSIONS[role]]
    people = User.objects.with_role(*roles).at_work()
    technician = people.filter(pk=entry.technician_id).first()
    if technician is None:
        raise NotFound(
            "technician-not-found",
            "There is nobody of that name who works at the bench.",
            "technician_id",
        )
    return technician


def _day(done_on: date | None, *, at: datetime, time_zone: str) -> date:
    today = at.astimezone(ZoneInfo(time_zone)).date()
    if done_on is not None and done_on > today:
        raise Refusal(
            "day-in-future", "Work cannot be booked before it is done.", "done_on"
        )
    return done_on or today


def _rate(entry: LabourEntry, technician: User, shop: ShopSettings) -> Decimal:
    if entry.hourly_rate is not None:
        return entry.hourly_rate
    return rate_for(technician=technician, kind=entry.kind, shop=shop)


def _task_id(entry: LabourEntry, order: WorkOrder) -> int | None:
    if entry.task_id is None:
        return None
    if not Task.objects.of_work_order(order.pk).filter(pk=row_id(entry.task_id)):
        raise NotFound(
            "task-not-found",
            f"There is no such task on {order.label}.",
            "task_id",
        )
    return entry.task_id
