"""What attachments belong to, and whether it still takes any."""

from shop.actions._rows import open_work_order
from shop.domain.attachments import Subject
from shop.domain.refusals import NotFound
from shop.models import Advisory, Attachment, Bike, StripTag, WorkOrder
from shop.models.attachments import SUBJECT_COLUMNS
from shop.models.columns import row_id

_WORDS = {
    Subject.BIKE: "bike",
    Subject.WORK_ORDER: "work order",
    Subject.STRIP_TAG: "strip tag",
    Subject.ADVISORY: "advisory",
}


def order_of_subject(subject: Subject, subject_id: int) -> int | None:
    """Return the work order that a subject belongs to; a bike belongs to none.

    Raises
    ------
    NotFound
        There is no such thing.
    """
    order_id = _order_or_own_id(subject, row_id(subject_id))
    if order_id is None:
        name = _WORDS[subject]
        code = f"{name.replace(' ', '-')}-not-found"
        raise NotFound(code, f"There is no such {name}.", "about_id")
    return None if subject is Subject.BIKE else order_id


def _order_or_own_id(subject: Subject, pk: int) -> int | None:
    match subject:
        case Subject.BIKE:
            return Bike.objects.filter(pk=pk).values_list("pk", flat=True).first()
        case Subject.WORK_ORDER:
            return WorkOrder.objects.filter(pk=pk).values_list("pk", flat=True).first()
        case Subject.STRIP_TAG:
            tags = StripTag.objects.filter(pk=pk)
            return tags.values_list("work_order_id", flat=True).first()
        case Subject.ADVISORY:
            noticed = Advisory.objects.filter(pk=pk)
            return noticed.values_list("work_order_id", flat=True).first()


def subject_of(row: Attachment) -> tuple[Subject, int]:
    """Return what an attachment belongs to."""
    for subject, column in SUBJECT_COLUMNS.items():
        pk: int | None = getattr(row, f"{column}_id")
        if pk is not None:
            return subject, pk
    raise LookupError(f"attachment {row.pk} belongs to nothing")


def order_of(row: Attachment) -> int | None:
    """Return the work order that an attachment belongs to, if it is no bike's."""
    return order_of_subject(*subject_of(row))


def check_open(row: Attachment) -> None:
    """Refuse where the work order has ended; a bike always takes files.

    Raises
    ------
    IllegalMove
        The work order has ended.
    """
    if (order_id := order_of(row)) is not None:
        open_work_order(order_id)
