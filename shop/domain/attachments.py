"""Photos and documents about a bike, a work order, a strip tag or an advisory.

What a file is, is read from its first bytes; its name and what the browser said of
it count for nothing. Pictures are handled in `pictures.py`, PDFs in `pdf_files.py`.
"""

from datetime import datetime, timedelta
from enum import StrEnum
from typing import Protocol

from shop.domain.entries import TextRule
from shop.domain.refusals import Refusal

MEBIBYTE = 1024 * 1024
MOST_BYTES = 30 * MEBIBYTE
"""No photo of a phone is larger, and no scan of a registration paper."""

MAX_ERRORS = 3
"""After so many reported errors the thumbnail is given up."""

MAX_CRASHES = 3
"""After so many dead workers the thumbnail is given up: it may be what kills them."""

LEASE = timedelta(seconds=60)
"""A worker that holds a photo for longer is taken for dead."""

OLDEST_PHOTO_YEAR = 1990
_PAUSE = timedelta(seconds=2)

CAPTION = TextRule("caption", "The caption", 200)
REMOVAL_REASON = TextRule("reason", "The reason", 200, required=True)


class SentFile(Protocol):
    """A file as it came in with a form, not yet read into memory."""

    @property
    def size(self) -> int | None:
        """How many bytes it has."""

    def read(self) -> bytes:
        """Return its content."""


class AttachmentKind(StrEnum):
    """What an attached file is."""

    PHOTO = "photo"
    DOCUMENT = "document"


class Subject(StrEnum):
    """What a file can be attached to."""

    BIKE = "bike"
    WORK_ORDER = "work-order"
    STRIP_TAG = "strip-tag"
    ADVISORY = "advisory"


class FileType(StrEnum):
    """A file type that is taken, by its content type."""

    JPEG = "image/jpeg"
    PNG = "image/png"
    WEBP = "image/webp"
    HEIF = "image/heif"
    PDF = "application/pdf"


class ThumbnailState(StrEnum):
    """How far the small pictures of an attachment are."""

    NONE = "none"
    QUEUED = "queued"
    MAKING = "making"
    READY = "ready"
    FAILED = "failed"


class ThumbnailEvent(StrEnum):
    """What can happen to the small pictures."""

    CLAIM = "claim"
    FINISH = "finish"
    PUT_BACK = "put back"
    GIVE_UP = "give up"
    RETRY = "retry"


MOVES: dict[tuple[ThumbnailState, ThumbnailEvent], ThumbnailState] = {
    (ThumbnailState.QUEUED, ThumbnailEvent.CLAIM): ThumbnailState.MAKING,
    (ThumbnailState.MAKING, ThumbnailEvent.FINISH): ThumbnailState.READY,
    (ThumbnailState.MAKING, ThumbnailEvent.PUT_BACK): ThumbnailState.QUEUED,
    (ThumbnailState.MAKING, ThumbnailEvent.GIVE_UP): ThumbnailState.FAILED,
    (ThumbnailState.FAILED, ThumbnailEvent.RETRY): ThumbnailState.QUEUED,
}
UNDER_WAY = frozenset({ThumbnailState.QUEUED, ThumbnailState.MAKING})

KIND_LABELS = {
    AttachmentKind.PHOTO: "Photo",
    AttachmentKind.DOCUMENT: "Document",
}
THUMBNAIL_LABELS = {
    ThumbnailState.NONE: "Has none",
    ThumbnailState.QUEUED: "Waiting",
    ThumbnailState.MAKING: "Being made",
    ThumbnailState.READY: "Ready",
    ThumbnailState.FAILED: "Could not be made",
}

# Still pictures coded with HEVC, the way phones store them; sequences are films.
_HEIF_BRANDS = frozenset({b"heic", b"heix", b"heim", b"heis", b"mif1", b"msf1"})
_FILMS = frozenset(
    {b"isom", b"iso2", b"mp41", b"mp42", b"qt  ", b"3gp4", b"hevc", b"M4V "}
)


def file_type(content: bytes) -> FileType:
    """Return what a file is, from its first bytes.

    Parameters
    ----------
    content : bytes
        The file.

    Raises
    ------
    Refusal
        ``file-empty``, ``file-too-large`` or ``file-type-unknown``.

    Examples
    --------
    >>> file_type(b"%PDF-1.7 and so on").value
    'application/pdf'
    """
    check_size(len(content))
    if content.startswith(b"\xff\xd8\xff"):
        return FileType.JPEG
    if content.startswith(b"\x89PNG\r\n\x1a\n"):
        return FileType.PNG
    if content[:4] == b"RIFF" and content[8:12] == b"WEBP":
        return FileType.WEBP
    if content[4:8] == b"ftyp" and content[8:12] in _HEIF_BRANDS:
        return FileType.HEIF
    if content.startswith(b"%PDF-"):
        return FileType.PDF
    raise Refusal("file-type-unknown", _what_it_is(content), "file")


def read_in(file: SentFile) -> bytes:
    """Return the content of a file that came in, unless it is empty or too large.

    Raises
    ------
    Refusal
        ``file-empty`` or ``file-too-large``; then nothing of it is read.
    """
    check_size(file.size or 0)
    return file.read()


def check_size(byte_count: int) -> None:
    """Refuse a file that is empty or too large.

    Raises
    ------
    Refusal
        ``file-empty`` or ``file-too-large``.
    """
    if byte_count == 0:
        raise Refusal(
            "file-empty",
            "The file is empty: nothing arrived. Choose it again; if it comes from a "
            "cloud folder, let the phone load it first.",
            "file",
        )
    if byte_count > MOST_BYTES:
        raise Refusal(
            "file-too-large",
            f"The file has {byte_count / MEBIBYTE:.0f} MB; "
            f"{MOST_BYTES // MEBIBYTE} MB is the most. Send it smaller: "
            "phones can save photos in a smaller size, scanners with fewer dots.",
            "file",
        )


def moved(state: ThumbnailState, event: ThumbnailEvent) -> ThumbnailState:
    """Return the state after an event that the table knows."""
    return MOVES[state, event]


def after_error(errors: int) -> ThumbnailEvent:
    """Return what follows a reported error, this one counted.

    Examples
    --------
    >>> after_error(1).value, after_error(3).value
    ('put back', 'give up')
    """
    return ThumbnailEvent.GIVE_UP if errors >= MAX_ERRORS else ThumbnailEvent.PUT_BACK


def after_crash(crashes: int) -> ThumbnailEvent:
    """Return what follows a worker's death, this one counted."""
    return ThumbnailEvent.GIVE_UP if crashes >= MAX_CRASHES else ThumbnailEvent.PUT_BACK


def pause_after(errors: int) -> timedelta:
    """Return how long a photo rests before it is tried again.

    Examples
    --------
    >>> [pause_after(n).seconds for n in (1, 2)]
    [2, 4]
    """
    return _PAUSE * (1 << (errors - 1))


def believable(taken_at: datetime | None, *, at: datetime) -> datetime | None:
    """Return when a photo was taken, unless the camera's clock was plainly wrong.

    Parameters
    ----------
    taken_at : datetime or None
        Aware; what the camera wrote.
    at : datetime
        Aware; when the photo arrived.
    """
    if taken_at is None or taken_at.year < OLDEST_PHOTO_YEAR:
        return None
    return taken_at if taken_at <= at + timedelta(days=1) else None


def _what_it_is(content: bytes) -> str:
    taken = "Send a photo (JPEG, PNG, WebP or HEIC) or a PDF."
    start = content[:512].lstrip(b"\xef\xbb\xbf \t\r\n").lower()
    if b"<svg" in start:
        return f"This is an SVG drawing, which can carry programs. {taken}"
    if start.startswith((b"<!doctype", b"<html", b"<?xml", b"<script")):
        return f"This is a web page, not a photo. {taken}"
    if content[4:8] == b"ftyp" and content[8:12] in _FILMS:
        return f"This is a film; films are not kept here. {taken}"
    if content.startswith((b"GIF8", b"BM", b"II*\x00", b"MM\x00*")):
        return f"This kind of picture is not taken (GIF, BMP or TIFF). {taken}"
    if content.startswith(b"PK"):
        return f"This is a ZIP file or an office document. {taken}"
    return f"What kind of file this is cannot be told from its content. {taken}"
