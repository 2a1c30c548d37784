"""Photos and documents put to a bike, work order, strip tag or advisory."""

import hashlib
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from django.db import IntegrityError, transaction

from shop import jobs
from shop.actions import _attachment_files as drawer
from shop.actions._attachment_subjects import (
    check_open,
    order_of,
    order_of_subject,
    subject_of,
)
from shop.actions._rows import locked
from shop.actions.history import Happening, record
from shop.domain.attachments import (
    CAPTION,
    REMOVAL_REASON,
    AttachmentKind,
    FileType,
    Subject,
    ThumbnailEvent,
    ThumbnailState,
    believable,
    file_type,
    moved,
)
from shop.domain.pdf_files import check_pdf
from shop.domain.pictures import clean_photo
from shop.domain.refusals import IllegalMove
from shop.domain.roles import Act
from shop.models import Attachment, ShopSettings, User
from shop.models.attachments import SUBJECT_COLUMNS

DRAIN = "shop.drain_thumbnails"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Kept:
    """A file as it will be kept, with what is known of it."""

    content: bytes
    kind: AttachmentKind
    type: FileType
    width: int | None = None
    height: int | None = None
    page_count: int | None = None
    taken_at: datetime | None = None


def attach(
    *,
    subject: Subject,
    subject_id: int,
    content: bytes,
    caption: str,
    acting_user: User,
    at: datetime,
) -> Attachment:
    """Keep a photo or document; the same file sent again is the same attachment.

    A photo is drawn anew from its pixels before anything is stored. The file is
    stored first and its row written after: a row never points to a file that is not
    there, and a row that cannot be written takes its file away again.

    Raises
    ------
    NotAllowed
        The role may not add files, or not documents.
    NotFound
        There is no such thing to put it to.
    IllegalMove
        The work order has ended.
    Refusal
        The file is nothing that is taken here; field ``file``.
    """
    acting_user.demand(Act.KEEP_ATTACHMENTS)
    words = CAPTION.clean(caption)
    kind = file_type(content)
    if kind is FileType.PDF:
        # Registration papers and letters name people.
        acting_user.demand(Act.SEE_CUSTOMERS)
    digest = hashlib.sha256(content).hexdigest()
    # Before the work of reading the picture.
    order_of_subject(subject, subject_id)
    if (known := _known(subject, subject_id, digest)) is not None:
        return known
    kept = _cleaned(content, kind, at=at)
    name = drawer.put(kept.content, kept.type)
    row = Attachment(
        **{f"{SUBJECT_COLUMNS[subject]}_id": subject_id},
        kind=kept.kind.value,
        caption=words,
        taken_at=kept.taken_at,
        added_by=acting_user,
        added_at=at,
        digest=digest,
        content_type=kept.type.value,
        file_name=name,
        byte_count=len(kept.content),
        sha256=hashlib.sha256(kept.content).hexdigest(),
        width=kept.width,
        height=kept.height,
        page_count=kept.page_count,
        thumbnail_state=_first_state(kept.kind).value,
        not_before=at,
    )
    try:
        _write(row, acting_user=acting_user, at=at)
    except IntegrityError:
        drawer.discard(name)
        # The phone sent it twice at once: the other one was quicker.
        if (known := _known(subject, subject_id, digest)) is None:
            raise
        return known
    except BaseException:
        drawer.discard(name)
        raise
    return row


@transaction.atomic
def edit_caption(
    *, attachment_id: int, caption: str, acting_user: User, at: datetime
) -> Attachment:
    """Say what a photo or document shows."""
    acting_user.demand(Act.KEEP_ATTACHMENTS)
    words = CAPTION.clean(caption)
    row = _kept_row(attachment_id, acting_user)
    before = row.caption
    if words != before:
        row.caption = words
        row.save(update_fields=["caption"])
        _note(
            row,
            "attachment.captioned",
            f"Caption of a {_word(row)} changed to “{words}”",
            acting_user=acting_user,
            at=at,
        )
    return row


@transaction.atomic
def remove(
    *, attachment_id: int, reason: str, acting_user: User, at: datetime
) -> Attachment:
    """Take a photo or document out of sight, with the reason; it can be put back.

    Raises
    ------
    Refusal
        No reason is given, it is taken away already, or the work order has ended.
    """
    acting_user.demand(Act.KEEP_ATTACHMENTS)
    why = REMOVAL_REASON.clean(reason)
    row = _kept_row(attachment_id, acting_user)
    check_open(row)
    row.removed_at = at
    row.removed_by = acting_user
    row.removal_reason = why
    row.save(update_fields=["removed_at", "removed_by", "removal_reason"])
    _note(
        row,
        "attachment.removed",
        f"{_named(row)} taken away",
        acting_user=acting_user,
        at=at,
        reason=why,
    )
    return row


@transaction.atomic
def put_back(*, attachment_id: int, acting_user: User, at: datetime) -> Attachment:
    """Put back what was taken away.

    Raises
    ------
    IllegalMove
        It is there, or the same file has been added again meanwhile.
    """
    acting_user.demand(Act.KEEP_ATTACHMENTS)
    row = _row(attachment_id, acting_user)
    if row.removed_at is None:
        raise IllegalMove("attachment-there", "This is not taken away.")
    subject, subject_id = subject_of(row)
    if _known(subject, subject_id, row.digest) is not None:
        raise IllegalMove(
            "attachment-there", "The same file has been added again meanwhile."
        )
    row.removed_at = None
    row.removed_by = None
    row.removal_reason = ""
    row.save(update_fields=["removed_at", "removed_by", "removal_reason"])
    _note(
        row,
        "attachment.put_back",
        f"{_named(row)} put back",
        acting_user=acting_user,
        at=at,
    )
    return row


@transaction.atomic
def retry_thumbnail(
    *, attachment_id: int, acting_user: User, at: datetime
) -> Attachment:
    """Put a photo whose small pictures could not be made back in the queue."""
    acting_user.demand(Act.KEEP_ATTACHMENTS)
    row = _kept_row(attachment_id, acting_user)
    if row.thumbnail_state != ThumbnailState.FAILED.value:
        raise IllegalMove(
            "thumbnail-not-failed",
            "Only a small picture that could not be made can be tried again.",
        )
    row.thumbnail_state = moved(ThumbnailState.FAILED, ThumbnailEvent.RETRY).value
    row.errors = row.crashes = 0
    row.not_before = at
    row.save(update_fields=["thumbnail_state", "errors", "crashes", "not_before"])
    _note(
        row,
        "attachment.retried",
        f"Small picture of {_named(row)} put back in the queue",
        acting_user=acting_user,
        at=at,
    )
    jobs.enqueue(DRAIN)
    return row


def _cleaned(content: bytes, kind: FileType, *, at: datetime) -> _Kept:
    if kind is FileType.PDF:
        pages = check_pdf(content)
        return _Kept(
            content=content,
            kind=AttachmentKind.DOCUMENT,
            type=FileType.PDF,
            page_count=pages,
        )
    zone = ZoneInfo(ShopSettings.objects.current().time_zone)
    photo = clean_photo(content, kind, zone=zone)
    return _Kept(
        content=photo.jpeg,
        kind=AttachmentKind.PHOTO,
        type=FileType.JPEG,
        width=photo.width,
        height=photo.height,
        taken_at=believable(photo.taken_at, at=at),
    )


def _first_state(kind: AttachmentKind) -> ThumbnailState:
    is_photo = kind is AttachmentKind.PHOTO
    return ThumbnailState.QUEUED if is_photo else ThumbnailState.NONE


@transaction.atomic
def _write(row: Attachment, *, acting_user: User, at: datetime) -> None:
    check_open(row)
    row.save(force_insert=True)
    _note(
        row,
        "attachment.added",
        f"{_named(row)} added",
        acting_user=acting_user,
        at=at,
    )
    if row.thumbnail_state == ThumbnailState.QUEUED.value:
        jobs.enqueue(DRAIN)


def _known(subject: Subject, subject_id: int, digest: str) -> Attachment | None:
    there = Attachment.objects.of(subject, subject_id).kept()
    return there.filter(digest=digest).first()


def _row(attachment_id: int, acting_user: User) -> Attachment:
    row = locked(
        Attachment.objects.all(),
        pk=attachment_id,
        field="attachment_id",
        name="attachment",
    )
    if row.kind == AttachmentKind.DOCUMENT.value:
        acting_user.demand(Act.SEE_CUSTOMERS)
    return row


def _kept_row(attachment_id: int, acting_user: User) -> Attachment:
    row = _row(attachment_id, acting_user)
    if row.removed_at is not None:
        raise IllegalMove(
            "attachment-removed", "This is taken away. Put it back first."
        )
    return row


def _word(row: Attachment) -> str:
    return row.get_kind_display().lower()


def _named(row: Attachment) -> str:
    name = row.get_kind_display()
    return f"{name} “{row.caption}”" if row.caption else name


def _note(
    row: Attachment,
    verb: str,
    summary: str,
    *,
    acting_user: User,
    at: datetime,
    reason: str = "",
) -> None:
    # What happened to a bike's own file stands in the bike's time line.
    kind, subject_id = ("attachment", row.pk)
    if row.bike_id is not None:
        kind, subject_id = ("bike", row.bike_id)
    happening = Happening(
        verb=verb,
        kind=kind,
        subject_id=subject_id,
        summary=summary,
        work_order_id=order_of(row),
        reason=reason,
    )
    record(happening, acting_user=acting_user, at=at)
