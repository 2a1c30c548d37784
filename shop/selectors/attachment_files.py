"""The stored bytes of an attachment, piece by piece."""

from collections.abc import Iterator

from django.core.files.storage import default_storage

from shop.domain.refusals import NotFound

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
