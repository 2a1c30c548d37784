from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from django.core.files.storage import default_storage
from django.db import transaction
from pytest_django import DjangoCaptureOnCommitCallbacks, Settings

from shop.actions import paper, paper_building
from shop.domain.paper import MAX_CRASHES
from shop.models import HistoryEntry, PaperRequest
from shop.paper import drawer
from tests.builders import MORNING, UserFactory
from tests.shop.paper_room import NOON, at_noon, build_all, order_with_work

pytestmark = pytest.mark.django_db
LEASE = timedelta(seconds=90)


@pytest.fixture(autouse=True)
def _drawer(settings: Settings, tmp_path: Path) -> None:
    settings.MEDIA_ROOT = tmp_path
    settings.PAPER_LEASE_S = int(LEASE.total_seconds())


@pytest.fixture
def asked() -> PaperRequest:
    order = order_with_work()
    return paper.request_report(
        work_order_id=order.pk, acting_user=UserFactory.create(), at=MORNING
    )


def filed() -> list[str]:
    if not default_storage.exists("paper"):
        return []
    return [f"paper/{name}" for name in default_storage.listdir("paper")[1]]


def sweep(at: datetime) -> int:
    return paper_building.sweep(acting_user=None, at=at)


class Died(BaseException):
    """The worker's process ends: nothing after this line runs."""


def die() -> datetime:
    raise Died


def spoil(asked: PaperRequest) -> None:
    """Leave a content that no sheet can be printed from."""
    with transaction.atomic():
        row = PaperRequest.objects.get(pk=asked.pk)
        # The table forbids this; a row of an older version may still be like it.
        PaperRequest.objects.create(
            kind=row.kind,
            work_order_id=row.work_order_id,
            digest="f" * 64,
            content={**row.content, "page_size": "papyrus"},
            not_before=MORNING - timedelta(days=1),
            requested_by=row.requested_by,
            requested_at=MORNING,
        )


def spoilt() -> PaperRequest:
    return PaperRequest.objects.get(digest="f" * 64)


def test_a_built_paper_is_filed_with_its_fingerprint(asked: PaperRequest) -> None:
    assert build_all() == 1
    asked.refresh_from_db()
    assert (asked.state, asked.owner, asked.lease_until) == ("ready", "", None)
    assert asked.ready_at == NOON
    assert filed() == [asked.file_name]
    pdf = drawer.take(asked.file_name, sha256=asked.sha256)
    assert len(pdf) == asked.byte_count
    assert pdf.startswith(b"%PDF-1.7")
    entry = HistoryEntry.objects.get(verb="paper.ready")
    assert entry.actor is None
    assert entry.work_order_id == asked.work_order_id


def test_each_step_is_seen_while_the_paper_is_made(asked: PaperRequest) -> None:
    seen: list[tuple[str, int, str]] = []

    def look() -> datetime:
        asked.refresh_from_db()
        seen.append((asked.state, asked.step, asked.step_words))
        return NOON

    build_all(clock=look)
    assert seen == [
        ("building", 1, "Setting out the text"),
        ("building", 2, "Laying out the pages"),
        ("building", 3, "Checking the finished file"),
        ("building", 4, "Putting it in the drawer"),
    ]


def test_what_one_worker_holds_another_leaves_alone(asked: PaperRequest) -> None:
    others: list[bool] = []

    def meanwhile() -> datetime:
        others.append(
            paper_building.build_next(acting_user=None, at=NOON, clock=at_noon)
        )
        return NOON

    assert build_all(clock=meanwhile) == 1
    assert set(others) == {False}
    asked.refresh_from_db()
    assert asked.attempts == 1
    assert len(filed()) == 1


def test_a_worker_that_dies_half_way_is_replaced_after_its_lease(
    asked: PaperRequest,
) -> None:
    with pytest.raises(Died):
        build_all(clock=die)
    asked.refresh_from_db()
    assert asked.state == "building"
    assert build_all() == 0
    assert sweep(NOON + LEASE - timedelta(seconds=1)) == 0
    assert sweep(NOON + LEASE) == 1
    asked.refresh_from_db()
    assert (asked.state, asked.crashes, asked.errors) == ("queued", 1, 0)
    assert build_all(at=NOON + LEASE) == 1
    asked.refresh_from_db()
    assert (asked.state, asked.attempts, asked.crashes) == ("ready", 2, 1)
    assert len(filed()) == 1


def test_every_step_renews_the_lease(asked: PaperRequest) -> None:
    late = iter([NOON + LEASE * n for n in (0.9, 1.8, 2.7)] + [NOON] * 9)
    swept: list[int] = []

    def slow() -> datetime:
        now = next(late)
        swept.append(sweep(now - timedelta(seconds=1)))
        return now

    assert build_all(clock=slow) == 1
    assert set(swept) == {0}


def test_a_worker_taken_for_dead_gives_up_and_files_nothing(
    asked: PaperRequest,
) -> None:
    calls: list[int] = []

    def slow() -> datetime:
        calls.append(1)
        if len(calls) == 3:
            assert sweep(NOON + LEASE * 2) == 1
            build_all(at=NOON + LEASE * 2)
        return NOON

    assert build_all(clock=slow) == 1
    asked.refresh_from_db()
    assert (asked.state, asked.attempts) == ("ready", 2)
    assert filed() == [asked.file_name]
    assert HistoryEntry.objects.filter(verb="paper.ready").count() == 1


def test_a_late_file_is_thrown_away_when_another_worker_was_quicker(
    asked: PaperRequest,
) -> None:
    calls: list[int] = []

    def slow() -> datetime:
        calls.append(1)
        if len(calls) == 4:  # all is filed, only the handing in is left
            assert sweep(NOON + LEASE * 2) == 1
            build_all(at=NOON + LEASE * 2)
        return NOON

    build_all(clock=slow)
    asked.refresh_from_db()
    assert asked.state == "ready"
    assert filed() == [asked.file_name]
    assert drawer.take(asked.file_name, sha256=asked.sha256)


def test_a_paper_that_kills_its_workers_is_put_aside(asked: PaperRequest) -> None:
    at = NOON
    for _ in range(MAX_CRASHES):
        with pytest.raises(Died):
            build_all(at=at, clock=die)
        at += LEASE
        assert sweep(at) == 1
    asked.refresh_from_db()
    assert (asked.state, asked.crashes, asked.errors) == ("failed", MAX_CRASHES, 0)
    assert "cut off several times" in asked.failure_reason
    assert HistoryEntry.objects.filter(verb="paper.failed").count() == 1


def test_an_error_is_tried_again_after_a_pause_and_then_put_aside(
    asked: PaperRequest,
) -> None:
    spoil(asked)
    assert build_all() == 2  # the spoilt one, and then the sound one
    row = spoilt()
    assert (row.state, row.errors, row.crashes) == ("queued", 1, 0)
    assert row.not_before == NOON + timedelta(seconds=2)
    assert build_all() == 0
    assert build_all(at=NOON + timedelta(seconds=2)) == 1
    assert spoilt().errors == 2
    assert build_all(at=NOON + timedelta(seconds=4)) == 1
    row = spoilt()
    assert (row.state, row.errors, row.crashes) == ("failed", 3, 0)
    assert "KeyError" in row.failure_reason
    assert build_all(at=NOON + timedelta(days=1)) == 0
    entry = HistoryEntry.objects.get(verb="paper.failed")
    assert entry.reason == row.failure_reason
    asked.refresh_from_db()
    assert asked.state == "ready"


def test_the_sweep_wakes_one_worker_for_all_that_waits(
    asked: PaperRequest,
    django_capture_on_commit_callbacks: DjangoCaptureOnCommitCallbacks,
) -> None:
    spoil(asked)
    with django_capture_on_commit_callbacks() as hints:
        sweep(NOON)
    assert len(hints) == 1
    build_all()
    with django_capture_on_commit_callbacks() as hints:
        sweep(NOON)
    assert hints == []


@pytest.mark.django_db(transaction=False)
def test_no_paper_is_built_inside_a_transaction(
    asked: PaperRequest, monkeypatch: pytest.MonkeyPatch
) -> None:
    # Django lets a test's own transaction pass; take that mark away.
    block = transaction.get_connection().atomic_blocks[-1]
    monkeypatch.setattr(block, "_from_testcase", False)
    with pytest.raises(RuntimeError, match="durable"):
        build_all()


def test_the_same_content_gives_the_same_bytes_on_every_worker(
    asked: PaperRequest, make_again: Callable[[PaperRequest], str]
) -> None:
    build_all()
    asked.refresh_from_db()
    assert make_again(asked) == asked.sha256


@pytest.fixture
def make_again() -> Callable[[PaperRequest], str]:
    def remake(asked: PaperRequest) -> str:
        default_storage.delete(asked.file_name)
        user = asked.requested_by
        paper.request_report(
            work_order_id=asked.work_order_id, acting_user=user, at=NOON
        )
        build_all()
        asked.refresh_from_db()
        return asked.sha256

    return remake
