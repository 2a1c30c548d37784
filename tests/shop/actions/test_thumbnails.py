"""Small pictures are made by whoever is free, once, and nothing waits for ever."""

from datetime import timedelta
from io import BytesIO
from pathlib import Path

import pytest
from django.core.files.storage import default_storage
from PIL import Image
from pytest_django import DjangoCaptureOnCommitCallbacks, Settings

from shop.actions import _attachment_files
from shop.actions.thumbnails import make_next, sweep
from shop.domain.attachments import LEASE
from shop.models import Attachment, HistoryEntry
from tests.builders import MORNING
from tests.pictures import jpeg
from tests.shop.attached import attached

pytestmark = pytest.mark.django_db
LATER = MORNING + timedelta(hours=1)


@pytest.fixture(autouse=True)
def folder(settings: Settings, tmp_path: Path) -> Path:
    settings.MEDIA_ROOT = tmp_path
    return tmp_path


def size_of(name: str) -> tuple[int, int]:
    with default_storage.open(name) as file:
        return Image.open(BytesIO(file.read())).size


def claim() -> Attachment:
    """Let a worker take one, and die over it."""
    Attachment.objects.update(
        thumbnail_state="making", lease_owner="gone", lease_until=MORNING + LEASE
    )
    return Attachment.objects.get()


def test_a_worker_makes_one_for_the_list_and_one_for_the_screen() -> None:
    attached(content=jpeg(2000, 1000))
    assert make_next(acting_user=None, at=MORNING)
    row = Attachment.objects.get()
    assert (row.thumbnail_state, row.attempts) == ("ready", 1)
    assert size_of(row.thumbnail_name) == (480, 240)
    assert size_of(row.screen_name) == (1600, 800)
    assert not make_next(acting_user=None, at=MORNING)


def test_the_longest_waiting_is_made_first_and_none_before_its_time() -> None:
    late = attached(at=LATER)
    early = attached()
    assert make_next(acting_user=None, at=MORNING)
    early.refresh_from_db()
    assert early.thumbnail_state == "ready"
    assert not make_next(acting_user=None, at=MORNING)
    late.refresh_from_db()
    assert late.thumbnail_state == "queued"


def test_a_lost_file_is_tried_three_times_with_growing_pauses_then_given_up() -> None:
    row = attached()
    default_storage.delete(row.file_name)
    at = MORNING
    for errors, state in ((1, "queued"), (2, "queued"), (3, "failed")):
        assert make_next(acting_user=None, at=at)
        row.refresh_from_db()
        assert (row.errors, row.thumbnail_state, row.lease_owner) == (errors, state, "")
        assert not make_next(acting_user=None, at=at)
        at = row.not_before
    entry = HistoryEntry.objects.get(verb="attachment.no_thumbnail")
    assert entry.actor is None


def test_what_a_dead_worker_held_is_put_back_by_the_sweep(
    django_capture_on_commit_callbacks: DjangoCaptureOnCommitCallbacks,
) -> None:
    attached()
    claim()
    assert sweep(acting_user=None, at=MORNING) == 0
    assert sweep(acting_user=None, at=LATER) == 1
    row = Attachment.objects.get()
    assert (row.thumbnail_state, row.crashes, row.errors) == ("queued", 1, 0)
    assert make_next(acting_user=None, at=LATER)


def test_a_photo_that_kills_every_worker_is_given_up() -> None:
    attached()
    for crashes in (1, 2, 3):
        claim()
        assert sweep(acting_user=None, at=LATER) == 1
        assert Attachment.objects.get().crashes == crashes
    assert Attachment.objects.get().thumbnail_state == "failed"
    assert sweep(acting_user=None, at=LATER) == 0


def test_a_worker_that_comes_back_late_hands_in_nothing(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    attached()
    put = _attachment_files.put_small

    def slow(content: bytes, *, owner: str, side: int) -> str:
        Attachment.objects.update(lease_owner="another")
        return put(content, owner=owner, side=side)

    monkeypatch.setattr(_attachment_files, "put_small", slow)
    assert make_next(acting_user=None, at=MORNING)
    row = Attachment.objects.get()
    assert (row.thumbnail_state, row.thumbnail_name) == ("making", "")
    assert list(folder.rglob("*.webp")) == []
