"""Photos and documents: those of one thing, one by itself, and the file of one.

How other pages show them
-------------------------
A panel that loads itself, takes new photos and shows those that are there, on any
page that knows a bike, work order, strip tag or advisory:

    {% include "shop/attachments/slot.html" with about="strip-tag" about_id=tag.id %}

`about` is a value of `shop.domain.attachments.Subject`: "bike", "work-order",
"strip-tag", "advisory". The page needs no field of its own for it and runs no query.

For a list that shows one small picture a row, ask once for the whole list:

    first_photos(subject=Subject.STRIP_TAG, subject_ids=ids, viewer=viewer)

gives `{subject id: AttachmentRow}`; where `row.has_thumbnail`, the picture is
`<img src="{% url 'shop:attachment_thumbnail' row.id %}" alt="{{ row.name }}">`.

For a form that takes photos together with its own fields (a new strip tag), call the
action for each file once the row is made; it raises a `Refusal` at field "file":

    attach(subject=Subject.STRIP_TAG, subject_id=tag.pk, content=read_in(file),
           caption="", acting_user=..., at=...)

(`attach` from `shop.actions.attachments`, `read_in` and `Subject` from
`shop.domain.attachments`). Nobody's transaction should be open around it: reading a
large photo takes a second.

For a time line of everything about one bike: `bike_attachments(bike_id=...,
viewer=...)`.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from shop.domain.attachments import (
    KIND_LABELS,
    THUMBNAIL_LABELS,
    UNDER_WAY,
    AttachmentKind,
    FileType,
    Subject,
    ThumbnailState,
)
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer
from shop.models import Advisory, Attachment, Bike, StripTag, WorkOrder
from shop.models.attachments import SUBJECT_COLUMNS, AttachmentQuerySet
from shop.models.columns import row_id

MOST_SHOWN = 200
_DOWNLOAD_ENDINGS = {FileType.JPEG: "jpg", FileType.PDF: "pdf"}


@dataclass(frozen=True, slots=True, kw_only=True)
class AttachmentRow:
    """One photo or document."""

    id: int
    kind: str
    kind_label: str
    is_photo: bool
    name: str
    caption: str
    about: str
    about_id: int
    taken_at: datetime | None
    added_at: datetime
    added_by_name: str
    byte_count: int
    width: int | None
    height: int | None
    page_count: int | None
    has_thumbnail: bool
    is_under_way: bool
    thumbnail_state: str
    thumbnail_label: str
    is_removed: bool
    removal_reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AttachmentPanel:
    """The photos and documents of one thing."""

    about: str
    about_id: int
    label: str
    may_add: bool
    may_add_documents: bool
    is_moving: bool
    photos: tuple[AttachmentRow, ...]
    documents: tuple[AttachmentRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class AttachmentFile:
    """Where one version of an attachment lies, and how it goes out."""

    file_name: str
    content_type: str
    download_name: str
    tag: str
    is_photo: bool


def attachment_panel(
    *, subject: Subject, subject_id: int, viewer: Viewer
) -> AttachmentPanel:
    """Return the photos and documents of one thing, the newest first.

    Raises
    ------
    NotFound
        There is no such thing.
    """
    viewer.demand(Act.SEE_SHOP)
    label = _label(subject, subject_id)
    found = _seen(Attachment.objects.of(subject, subject_id).kept(), viewer)
    rows = _rows(found)
    may_add = viewer.may(Act.KEEP_ATTACHMENTS)
    return AttachmentPanel(
        about=subject.value,
        about_id=subject_id,
        label=label,
        may_add=may_add,
        may_add_documents=may_add and viewer.may(Act.SEE_CUSTOMERS),
        is_moving=any(row.is_under_way for row in rows),
        photos=tuple(row for row in rows if row.is_photo),
        documents=tuple(row for row in rows if not row.is_photo),
    )


def attachments_of(
    *, subject: Subject, subject_id: int, viewer: Viewer
) -> tuple[AttachmentRow, ...]:
    """Return what is attached to one thing, as one list, the newest first."""
    panel = attachment_panel(subject=subject, subject_id=subject_id, viewer=viewer)
    both = (*panel.photos, *panel.documents)
    return tuple(sorted(both, key=lambda row: (row.added_at, row.id), reverse=True))


def bike_attachments(*, bike_id: int, viewer: Viewer) -> tuple[AttachmentRow, ...]:
    """Return everything attached to a bike, its work orders, tags and advisories."""
    viewer.demand(Act.SEE_SHOP)
    found = Attachment.objects.of_bike_and_its_work(bike_id).kept()
    return _rows(_seen(found, viewer))


def first_photos(
    *, subject: Subject, subject_ids: Iterable[int], viewer: Viewer
) -> dict[int, AttachmentRow]:
    """Return the oldest photo of each of many things, in one query."""
    viewer.demand(Act.SEE_SHOP)
    column = f"{SUBJECT_COLUMNS[subject]}_id"
    photos = Attachment.objects.kept().photos().select_related("added_by")
    found = photos.filter(**{f"{column}__in": list(subject_ids)})
    # The newest first, so that the oldest is what stays in the dict.
    return {getattr(row, column): _row(row) for row in found.latest_first()}


def attachment(*, attachment_id: int, viewer: Viewer) -> AttachmentRow:
    """Return one photo or document, also one that was taken away.

    Raises
    ------
    NotFound
        There is none, or it is a document and not for this viewer.
    """
    return _row(_one(attachment_id, viewer))


def attachment_file(*, attachment_id: int, viewer: Viewer) -> AttachmentFile:
    """Return where the whole file lies."""
    row = _one(attachment_id, viewer)
    return _file(row, row.file_name, FileType(row.content_type), "whole")


def attachment_thumbnail(*, attachment_id: int, viewer: Viewer) -> AttachmentFile:
    """Return where the small picture lies."""
    row = _one(attachment_id, viewer)
    return _file(row, row.thumbnail_name, FileType.WEBP, "thumbnail")


def attachment_screen(*, attachment_id: int, viewer: Viewer) -> AttachmentFile:
    """Return where the picture for a screen lies; the whole one until it is made."""
    row = _one(attachment_id, viewer)
    if row.kind == AttachmentKind.PHOTO.value and not row.screen_name:
        return _file(row, row.file_name, FileType(row.content_type), "whole")
    return _file(row, row.screen_name, FileType.WEBP, "screen")


def _one(attachment_id: int, viewer: Viewer) -> Attachment:
    viewer.demand(Act.SEE_SHOP)
    found = _seen(Attachment.objects.with_subject(), viewer)
    row = found.filter(pk=row_id(attachment_id)).first()
    if row is None:
        raise NotFound("attachment-not-found", "There is no such photo or document.")
    return row


def _seen(found: AttachmentQuerySet, viewer: Viewer) -> AttachmentQuerySet:
    """Leave documents out for whoever may not see customers: papers name people."""
    return found if viewer.may(Act.SEE_CUSTOMERS) else found.photos()


def _rows(found: AttachmentQuerySet) -> tuple[AttachmentRow, ...]:
    return tuple(_row(row) for row in found.with_subject().latest_first()[:MOST_SHOWN])


def _row(row: Attachment) -> AttachmentRow:
    kind = AttachmentKind(row.kind)
    state = ThumbnailState(row.thumbnail_state)
    subject, subject_id = _subject_of(row)
    return AttachmentRow(
        id=row.pk,
        kind=kind.value,
        kind_label=KIND_LABELS[kind],
        is_photo=kind is AttachmentKind.PHOTO,
        name=row.caption or f"{KIND_LABELS[kind]} {row.pk}",
        caption=row.caption,
        about=subject.value,
        about_id=subject_id,
        taken_at=row.taken_at,
        added_at=row.added_at,
        added_by_name=row.added_by.name,
        byte_count=row.byte_count,
        width=row.width,
        height=row.height,
        page_count=row.page_count,
        has_thumbnail=state is ThumbnailState.READY,
        is_under_way=state in UNDER_WAY,
        thumbnail_state=state.value,
        thumbnail_label=THUMBNAIL_LABELS[state],
        is_removed=row.removed_at is not None,
        removal_reason=row.removal_reason,
    )


def _subject_of(row: Attachment) -> tuple[Subject, int]:
    return next(
        (subject, pk)
        for subject, column in SUBJECT_COLUMNS.items()
        if (pk := getattr(row, f"{column}_id")) is not None
    )


def _file(row: Attachment, name: str, kind: FileType, version: str) -> AttachmentFile:
    if not name or row.removed_at is not None:
        raise NotFound("attachment-not-found", "There is no such picture.")
    ending = _DOWNLOAD_ENDINGS.get(kind, "webp")
    return AttachmentFile(
        file_name=name,
        content_type=kind.value,
        download_name=f"{row.kind}-{row.pk}.{ending}",
        tag=f"{row.sha256}-{version}",
        is_photo=row.kind == AttachmentKind.PHOTO.value,
    )


def _label(subject: Subject, subject_id: int) -> str:
    """Return what people call the thing."""
    pk = row_id(subject_id)
    found: Bike | WorkOrder | StripTag | Advisory | None
    match subject:
        case Subject.BIKE:
            found = Bike.objects.filter(pk=pk).first()
        case Subject.WORK_ORDER:
            found = WorkOrder.objects.select_related("bike").filter(pk=pk).first()
        case Subject.STRIP_TAG:
            found = StripTag.objects.filter(pk=pk).first()
        case Subject.ADVISORY:
            found = Advisory.objects.filter(pk=pk).first()
    if found is None:
        words = subject.value.replace("-", " ")
        raise NotFound(f"{subject.value}-not-found", f"There is no such {words}.")
    return found.name if isinstance(found, Bike) else str(found)
