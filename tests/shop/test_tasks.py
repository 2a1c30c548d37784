from datetime import timedelta
from pathlib import Path

import pytest
from django.utils import timezone
from pytest_django import DjangoCaptureOnCommitCallbacks, Settings

from shop import tasks
from shop.actions.paper import request_report
from shop.models import Attachment, PaperRequest
from tests.builders import LabourLineFactory, UserFactory
from tests.shop.attached import attached
from tests.shop.paper_room import order_with_work

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _waiting(settings: Settings, tmp_path: Path) -> None:
    """Two papers wait."""
    settings.MEDIA_ROOT = tmp_path
    order, user = order_with_work(), UserFactory.create()
    for minutes in (5, 10):
        LabourLineFactory.create(work_order=order, minutes=minutes)
        request_report(work_order_id=order.pk, acting_user=user, at=timezone.now())


def ready() -> int:
    return PaperRequest.objects.filter(state="ready").count()


def test_one_hint_is_enough_for_all_that_waits() -> None:
    tasks.drain_paper()
    assert ready() == 2


def test_a_hint_too_many_does_nothing() -> None:
    tasks.drain_paper()
    names = set(PaperRequest.objects.values_list("file_name", flat=True))
    tasks.drain_paper()
    assert set(PaperRequest.objects.values_list("file_name", flat=True)) == names


def test_a_long_queue_is_worked_off_in_portions(
    monkeypatch: pytest.MonkeyPatch,
    django_capture_on_commit_callbacks: DjangoCaptureOnCommitCallbacks,
) -> None:
    monkeypatch.setattr(tasks, "BATCH", 1)
    with django_capture_on_commit_callbacks() as hints:
        tasks.drain_paper()
    assert ready() == 1
    assert len(hints) == 1


def test_the_sweep_puts_back_what_a_dead_worker_held() -> None:
    PaperRequest.objects.update(
        state="building",
        owner="gone",
        lease_until=timezone.now() - timedelta(seconds=1),
    )
    tasks.sweep_paper()
    assert PaperRequest.objects.filter(state="queued", crashes=1).count() == 2


def test_one_hint_is_enough_for_all_photos_that_wait() -> None:
    attached(at=timezone.now())
    attached(at=timezone.now())
    tasks.drain_thumbnails()
    assert Attachment.objects.filter(thumbnail_state="ready").count() == 2


def test_the_sweep_puts_back_the_photo_that_a_dead_worker_held() -> None:
    attached()
    Attachment.objects.update(
        thumbnail_state="making",
        lease_owner="gone",
        lease_until=timezone.now() - timedelta(seconds=1),
    )
    tasks.sweep_thumbnails()
    assert Attachment.objects.get().thumbnail_state == "queued"
