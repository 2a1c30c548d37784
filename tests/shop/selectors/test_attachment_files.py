from pathlib import Path

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from pytest_django import Settings

from shop.domain.refusals import NotFound
from shop.selectors.attachment_files import headers_of, pieces_of
from shop.selectors.attachments import AttachmentFile

FILE = AttachmentFile(
    file_name="attachments/ab/abc.jpg",
    content_type="image/jpeg",
    download_name="photo-7.jpg",
    tag="feed-whole",
    is_photo=True,
)


def test_a_file_comes_in_pieces(settings: Settings, tmp_path: Path) -> None:
    settings.MEDIA_ROOT = tmp_path
    content = bytes(range(256)) * 3000
    name = default_storage.save("attachments/x.jpg", ContentFile(content))
    pieces = list(pieces_of(name))
    assert len(pieces) == 3
    assert b"".join(pieces) == content


def test_a_file_that_is_gone_is_said_before_anything_is_sent(
    settings: Settings, tmp_path: Path
) -> None:
    settings.MEDIA_ROOT = tmp_path
    with pytest.raises(NotFound) as refused:
        pieces_of("attachments/nothing.jpg")
    assert refused.value.code == "file-lost"


def test_no_cache_but_the_browsers_own_keeps_a_file_and_it_asks_each_time() -> None:
    headers = headers_of(FILE, disposition="attachment")
    assert headers["Cache-Control"] == "private, no-cache"
    assert headers["ETag"] == '"feed-whole"'
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Content-Security-Policy"] == "default-src 'none'; sandbox"
    assert headers["Content-Disposition"] == 'attachment; filename="photo-7.jpg"'
