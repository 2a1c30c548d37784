"""How what lies on the shop floor is found: tags, tasks, outside work, photos."""

from django.db.models import Q, QuerySet, TextField
from django.db.models.functions import Concat

from shop.domain.attachments import AttachmentKind
from shop.domain.check_digits import is_right
from shop.domain.roles import Act, Viewer
from shop.domain.search import Wanted
from shop.models import (
    Attachment,
    Bike,
    Customer,
    OutsideWork,
    StripTag,
    Supplier,
    Task,
    WorkOrder,
)
from shop.selectors.search import SearchedNoun, between, register
from shop.selectors.search_nouns import BIKE_NAMES, BIKE_NUMBERS, after, joined

_MOST_ORDERS = 1000


def on_the_order(word: str, viewer: Viewer) -> Q:
    """Return the rows whose work order's bike, or customer, holds the word.

    Orders are looked for once and named one by one, so that an index finds their
    tags; where there are very many, nearly every tag matches and none is needed.
    """
    text = Concat(*between(*BIKE_NAMES, *BIKE_NUMBERS), output_field=TextField())
    bikes = Bike.objects.alias(text=text).filter(text__icontains=word)
    holds = Q(bike__in=bikes.values("pk"))
    if viewer.may(Act.SEE_CUSTOMERS):
        named = Customer.objects.filter(name__icontains=word)
        holds |= Q(customer__in=named.values("pk"))
    orders = WorkOrder.objects.filter(holds).values_list("pk", flat=True)
    few = list(orders[: _MOST_ORDERS + 1])
    return Q(work_order__in=few if len(few) <= _MOST_ORDERS else orders)


def tag_numbers(wanted: Wanted) -> tuple[int, ...]:
    """Return the numbers that a tag's label may mean: with its check digit, or bare.

    Examples
    --------
    >>> tag_numbers(Wanted.of("T-572-4")), tag_numbers(Wanted.of("T-572"))
    ((5724, 572), (572,))
    """
    number = wanted.number("T")
    if number is None:
        return ()
    digits = str(number)
    if len(digits) > 1 and is_right(digits):
        return (number, number // 10)
    return (number,)


def _tag(row: StripTag, _viewer: Viewer) -> str:
    order = row.work_order
    return joined(
        (
            row.get_state_display(),
            row.shelf and f"shelf {row.shelf}",
            row.place,
            f"{order.label} {order.bike.name}",
        )
    )


def _task(row: Task, _viewer: Viewer) -> str:
    order = row.work_order
    return joined((row.get_state_display(), f"{order.label} {order.bike.name}"))


def _outside(row: OutsideWork, _viewer: Viewer) -> str:
    order = row.work_order
    return joined(
        (
            row.get_state_display(),
            row.supplier.name,
            f"{order.label} {order.bike.name}",
        )
    )


def _supplier(row: Supplier, _viewer: Viewer) -> str:
    return joined((row.contact, row.phone, row.email))


def _attachments(viewer: Viewer) -> QuerySet[Attachment]:
    found = Attachment.objects.kept()
    return found if viewer.may(Act.SEE_CUSTOMERS) else found.photos()


def _attachment(row: Attachment, _viewer: Viewer) -> str:
    kind = "document" if row.kind == AttachmentKind.DOCUMENT.value else "photo"
    return joined((kind, f"{row.added_at:%d %b %Y}"))


for _noun in (
    SearchedNoun(
        kind="strip_tag",
        label="Strip tags",
        url_name="shop:strip_tag",
        list_url_name="shop:strip_tags",
        act=Act.SEE_SHOP,
        position=40,
        rows=lambda _viewer: StripTag.objects.select_related("work_order__bike"),
        columns=("name", "place", "shelf", "condition_note"),
        beside=on_the_order,
        counted="number",
        numbers=tag_numbers,
        title=lambda row: f"{row.label} {row.name}",
        detail=_tag,
        order=("-number",),
    ),
    SearchedNoun(
        kind="task",
        label="Tasks",
        url_name="shop:work_order",
        act=Act.SEE_SHOP,
        position=45,
        rows=lambda _viewer: Task.objects.select_related("work_order__bike"),
        columns=("operation", "notes"),
        beside=on_the_order,
        title=lambda row: str(row.operation),
        detail=_task,
        order=("-work_order_id", "position"),
        page_id=lambda row: int(row.work_order_id),
    ),
    SearchedNoun(
        kind="outside_work",
        label="Outside work",
        url_name="shop:outside_work_page",
        list_url_name="shop:outside_work",
        act=Act.SEE_SHOP,
        position=60,
        rows=lambda _viewer: OutsideWork.objects.select_related(
            "work_order__bike", "supplier"
        ),
        columns=("description", "notes", "supplier__name"),
        beside=on_the_order,
        counted="number",
        numbers=after("OW"),
        title=lambda row: f"{row.label} {row.description}",
        detail=_outside,
        order=("-number",),
    ),
    SearchedNoun(
        kind="supplier",
        label="Suppliers",
        url_name="shop:supplier",
        list_url_name="shop:suppliers",
        act=Act.SEE_SHOP,
        position=65,
        rows=lambda _viewer: Supplier.objects.all(),
        columns=("name", "contact", "phone", "email"),
        stamped=("phone",),
        title=lambda row: str(row.name),
        detail=_supplier,
        order=("is_retired", "name", "pk"),
    ),
    SearchedNoun(
        kind="attachment",
        label="Photos and documents",
        url_name="shop:attachment",
        act=Act.SEE_SHOP,
        position=70,
        rows=_attachments,
        columns=("caption",),
        title=lambda row: str(row.caption),
        detail=_attachment,
        order=("-added_at", "-pk"),
    ),
):
    register(_noun)
