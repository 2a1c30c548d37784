"""Parts put on a work order, and struck out again with a reason."""

from datetime import datetime
from decimal import Decimal

from django.db import transaction

from shop.actions._rows import locked, open_work_order
from shop.actions.history import Happening, record
from shop.domain.entries import VOID_REASON, clean_quantity
from shop.domain.parts import UNIT_LABELS, WHOLE_UNITS, PartUnit
from shop.domain.refusals import IllegalMove, NotFound
from shop.domain.roles import Act
from shop.models import Part, PartLine, User


@transaction.atomic
def add_part_line(
    *,
    work_order_id: int,
    part_id: int,
    quantity: Decimal,
    acting_user: User,
    at: datetime,
) -> PartLine:
    """Put a part on an open work order, at the price of today's parts list.

    Raises
    ------
    Refusal
        The quantity is none, the part is unknown or retired, or the order has ended.
    """
    acting_user.demand(Act.BOOK_PARTS)
    order = open_work_order(work_order_id)
    part = _part(part_id)
    unit = PartUnit(part.unit)
    amount = clean_quantity(quantity, whole=unit in WHOLE_UNITS)
    line = PartLine.objects.create(
        work_order=order,
        part=part,
        number=part.number,
        description=part.description,
        condition=part.condition,
        unit=part.unit,
        quantity=amount,
        price=part.price,
        tax_label=part.tax_rate.label,
        tax_percent=part.tax_rate.percent,
        added_by=acting_user,
        created_at=at,
    )
    record(
        _told(line, "part_line.added", "put on"),
        acting_user=acting_user,
        at=at,
    )
    return line


@transaction.atomic
def void_part_line(
    *, line_id: int, reason: str, acting_user: User, at: datetime
) -> PartLine:
    """Strike out a part line of an open work order, with the reason.

    Raises
    ------
    Refusal
        No reason is given, the line is void already, or the work order has ended.
    """
    acting_user.demand(Act.BOOK_PARTS)
    why = VOID_REASON.clean(reason)
    line = locked(PartLine.objects.all(), pk=line_id, field="line_id", name="part line")
    open_work_order(line.work_order_id)
    struck = PartLine.objects.filter(pk=line.pk).standing()
    if struck.update(voided_at=at, voided_by=acting_user, void_reason=why) != 1:
        raise IllegalMove("line-void", "This part line is struck out already.")
    record(
        _told(line, "part_line.voided", "struck out", reason=why),
        acting_user=acting_user,
        at=at,
    )
    line.refresh_from_db()
    return line


def _part(part_id: int) -> Part:
    part = Part.objects.in_use().select_related("tax_rate").filter(pk=part_id).first()
    if part is None:
        raise NotFound(
            "part-not-found", "There is no such part on the parts list.", "part_id"
        )
    return part


def _told(line: PartLine, verb: str, done: str, reason: str = "") -> Happening:
    unit = UNIT_LABELS[PartUnit(line.unit)]
    return Happening(
        verb=verb,
        kind="part_line",
        subject_id=line.pk,
        work_order_id=line.work_order_id,
        summary=(
            f"{line.quantity.normalize():f} {unit} {line.number} "
            f"{line.description} {done}"
        ),
        reason=reason,
    )
