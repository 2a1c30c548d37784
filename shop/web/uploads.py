"""Files on their way in: what is too large is counted, but not written to the disk."""

from typing import Any

from django.core.files.uploadedfile import UploadedFile
from django.core.files.uploadhandler import TemporaryFileUploadHandler
from typing_extensions import override

from shop.domain.attachments import MOST_BYTES


class BoundedUploadHandler(TemporaryFileUploadHandler):
    """Writes a file to a temporary one, and stops writing where it gets too large.

    The request is read to its end, so that the answer reaches the browser; the file
    says how large it was, and whoever reads it in refuses it in words.
    """

    @override
    def new_file(self, *args: Any, **kwargs: Any) -> None:
        """Begin to count."""
        super().new_file(*args, **kwargs)
        self.received = 0

    @override
    def receive_data_chunk(self, raw_data: bytes, start: int) -> bytes | None:
        """Write a piece, unless there were too many already."""
        self.received += len(raw_data)
        if self.received <= MOST_BYTES:
            return super().receive_data_chunk(raw_data, start)
        self.file.truncate(0)
        return None

    @override
    def file_complete(self, file_size: int) -> "UploadedFile[bytes] | None":
        """Return the file with the size that it was sent with."""
        return super().file_complete(self.received)
