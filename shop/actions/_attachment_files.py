"""Where attached files lie: under random names, reached only through the service."""

from secrets import token_hex

from django.core.files.base import ContentFile
from django.core.files.storage import default_storage

from shop.domain.attachments import FileType

_ENDINGS = {FileType.JPEG: "jpg", FileType.WEBP: "webp", FileType.PDF: "pdf"}


def put(content: bytes, kind: FileType) -> str:
    """File an attachment and return the name it lies under."""
    name = token_hex(16)
    path = f"attachments/{name[:2]}/{name}.{_ENDINGS[kind]}"
    return default_storage.save(path, ContentFile(content))


def put_small(content: bytes, *, owner: str, side: int) -> str:
    """File a small picture that the holder of a lease has made."""
    return default_storage.save(_small_name(owner, side), ContentFile(content))


def discard_small(owner: str, side: int) -> None:
    """Take away what the holder of a lease had filed."""
    discard(_small_name(owner, side))


def take(file_name: str) -> bytes:
    """Return a file as it was filed."""
    with default_storage.open(file_name) as file:
        content: bytes = file.read()
    return content


def discard(file_name: str) -> None:
    """Take a file away; one that is not there is gone already."""
    default_storage.delete(file_name)


def _small_name(owner: str, side: int) -> str:
    return f"thumbnails/{owner[:2]}/{owner}-{side}.webp"
