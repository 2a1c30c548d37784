from collections.abc import Iterator
from pathlib import Path

import pytest
from celery import current_app
from celery.exceptions import NotRegistered
from django.db import transaction
from django.utils import timezone
from pytest_django import DjangoCaptureOnCommitCallbacks, Settings

from shop import jobs
from shop.actions.paper import DRAIN, request_report
from shop.models import PaperRequest
from tests.builders import UserFactory
from tests.shop.paper_room import order_with_work

pytestmark = pytest.mark.django_db


@pytest.fixture
def _eager(settings: Settings, tmp_path: Path) -> Iterator[None]:
    settings.MEDIA_ROOT = tmp_path
    current_app.conf.task_always_eager = True
    yield
    current_app.conf.task_always_eager = False


@pytest.mark.usefixtures("_eager")
def test_in_eager_mode_the_paper_is_there_after_the_commit(
    django_capture_on_commit_callbacks: DjangoCaptureOnCommitCallbacks,
) -> None:
    order, user = order_with_work(), UserFactory.create()
    with django_capture_on_commit_callbacks(execute=True):
        request_report(work_order_id=order.pk, acting_user=user, at=timezone.now())
        assert PaperRequest.objects.get().state == "queued"
    assert PaperRequest.objects.get().state == "ready"


def test_what_is_rolled_back_wakes_nobody(
    django_capture_on_commit_callbacks: DjangoCaptureOnCommitCallbacks,
) -> None:
    with django_capture_on_commit_callbacks() as hints, transaction.atomic():
        jobs.enqueue(DRAIN)
        transaction.set_rollback(True)
    assert hints == []


def test_a_task_that_does_not_exist_is_a_mistake_and_not_kept_quiet(
    django_capture_on_commit_callbacks: DjangoCaptureOnCommitCallbacks,
) -> None:
    with (
        pytest.raises(NotRegistered),
        django_capture_on_commit_callbacks(execute=True),
    ):
        jobs.enqueue("shop.no_such_task")
