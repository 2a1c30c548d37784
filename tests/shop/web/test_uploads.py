"""A huge file is counted to its end and kept nowhere."""

from pathlib import Path

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from pytest_django import Settings

from shop.domain.roles import Role
from shop.models import Attachment
from shop.web import uploads
from tests.builders import BikeFactory
from tests.shop.web.pages import as_role, url, words

pytestmark = pytest.mark.django_db


@pytest.fixture
def bench(settings: Settings, tmp_path: Path) -> Client:
    settings.MEDIA_ROOT = tmp_path
    settings.FILE_UPLOAD_TEMP_DIR = tmp_path
    settings.FILE_UPLOAD_HANDLERS = ["shop.web.uploads.BoundedUploadHandler"]
    return as_role(Role.TECHNICIAN)


def test_a_file_that_is_too_large_is_refused_with_its_size(
    bench: Client, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    written: list[int] = []
    complete = uploads.BoundedUploadHandler.file_complete

    def watched(handler: uploads.BoundedUploadHandler, file_size: int) -> object:
        written.append(sum(path.stat().st_size for path in tmp_path.iterdir()))
        return complete(handler, file_size)

    monkeypatch.setattr(uploads.BoundedUploadHandler, "file_complete", watched)
    huge = SimpleUploadedFile("huge.jpg", bytes(31 * 1024 * 1024))
    address = url("attachments", "bike", BikeFactory().pk)
    answer = bench.post(address, {"files": [huge]})
    assert answer.status_code == 422
    assert "The file has 31 MB; 30 MB is the most." in words(answer)
    assert written == [0]
    assert list(tmp_path.iterdir()) == []
    assert not Attachment.objects.exists()
