"""The stored bytes of an attachment, piece by piece."""

from collections.abc import Iterator
from typing import Literal

from django.core.files.storage import default_storage

from shop.domain.refusals import NotFound
from shop.selectors.attachments import AttachmentFile

Disposition = Literal["inline", "attachment"]

_PIECE_BYTES = 256 * 1024


def pieces_of(file_name: str) -> Iterator[bytes]:
    """Yield the file in pieces, so that no worker holds it whole.

    Raises
    ------
    NotFound
        The file is gone from the storage; said before the first piece is asked for.
    """
    if not default_storage.exists(file_name):
        raise NotFound(
            "file-lost",
            "The file is missing from the storage, though it was kept here. Whoever "
            "looks after the service can bring it back from the backup.",
        )
    return _pieces(file_name)


def _pieces(file_name: str) -> Iterator[bytes]:
    with default_storage.open(file_name) as file:
        yield from file.chunks(_PIECE_BYTES)


def headers_of(file: AttachmentFile, *, disposition: Disposition) -> dict[str, str]:
    """Return the headers that an attachment goes out with, whoever serves it.

    It is asked for anew each time, so that whoever may no longer see it gets nothing
    from the browser's cache; what has not changed is not sent twice.
    """
    return {
        "Content-Disposition": f'{disposition}; filename="{file.download_name}"',
        "Cache-Control": "private, no-cache",
        "ETag": f'"{file.tag}"',
        "X-Content-Type-Options": "nosniff",
        "Cross-Origin-Resource-Policy": "same-origin",
        # Should a browser ever take it for a page, that page can do nothing.
        "Content-Security-Policy": "default-src 'none'; sandbox",
    }
