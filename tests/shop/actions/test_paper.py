from pathlib import Path
from typing import Any

import pytest
from celery import current_app
from django.core.files.storage import default_storage
from django.db import IntegrityError, transaction
from pytest_django import DjangoCaptureOnCommitCallbacks, Settings

from shop import seams
from shop.actions import paper
from shop.domain.refusals import IllegalMove, NotAllowed, NotFound, Refusal
from shop.models import HistoryEntry, PaperRequest, User, WorkOrder
from tests.builders import (
    MORNING,
    LabourLineFactory,
    StorekeeperFactory,
    UserFactory,
)
from tests.shop.paper_room import build_all, order_with_work

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _drawer(settings: Settings, tmp_path: Path) -> None:
    settings.MEDIA_ROOT = tmp_path


@pytest.fixture
def technician() -> User:
    return UserFactory.create()


@pytest.fixture
def order() -> WorkOrder:
    return order_with_work()


def ask(order: WorkOrder, user: User) -> PaperRequest:
    return paper.request_report(work_order_id=order.pk, acting_user=user, at=MORNING)


def test_asking_leaves_a_row_that_waits_and_an_entry_in_the_history(
    order: WorkOrder, technician: User
) -> None:
    asked = ask(order, technician)
    assert (asked.state, asked.step, asked.attempts) == ("queued", 0, 0)
    entry = HistoryEntry.objects.get(verb="paper.requested")
    assert entry.work_order_id == order.pk
    assert entry.actor == technician


def test_the_same_facts_asked_for_twice_are_one_paper_built_once(
    order: WorkOrder, technician: User
) -> None:
    first = ask(order, technician)
    again = ask(order, UserFactory.create())
    assert build_all() == 1
    after = ask(order, technician)
    assert {again.pk, after.pk} == {first.pk}
    assert build_all() == 0
    only = PaperRequest.objects.get()
    assert (only.state, only.attempts) == ("ready", 1)
    assert HistoryEntry.objects.filter(verb="paper.requested").count() == 1


def test_changed_facts_are_a_new_paper_and_the_old_one_stays(
    order: WorkOrder, technician: User
) -> None:
    before = ask(order, technician)
    LabourLineFactory.create(work_order=order, minutes=10)
    after = ask(order, technician)
    assert before.pk != after.pk
    assert build_all() == 2
    assert PaperRequest.objects.filter(state="ready").count() == 2


def test_a_worker_is_woken_after_the_commit_and_not_before(
    order: WorkOrder,
    technician: User,
    django_capture_on_commit_callbacks: DjangoCaptureOnCommitCallbacks,
) -> None:
    with django_capture_on_commit_callbacks() as hints:
        ask(order, technician)
    assert len(hints) == 1
    build_all()
    with django_capture_on_commit_callbacks() as hints:
        ask(order, technician)
    assert hints == []


def test_a_broker_that_is_down_loses_nothing(
    order: WorkOrder,
    technician: User,
    django_capture_on_commit_callbacks: DjangoCaptureOnCommitCallbacks,
    caplog: pytest.LogCaptureFixture,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def refuse(**_: object) -> None:
        raise ConnectionRefusedError("nobody listens there")

    monkeypatch.setattr(current_app.tasks[paper.DRAIN], "apply_async", refuse)
    with django_capture_on_commit_callbacks(execute=True):
        asked = ask(order, technician)
    assert "no worker was woken" in caplog.text
    assert build_all() == 1
    asked.refresh_from_db()
    assert asked.state == "ready"


def test_whoever_may_not_ask_is_told_who_may(order: WorkOrder) -> None:
    with pytest.raises(NotAllowed, match="technician"):
        ask(order, StorekeeperFactory.create())
    assert not PaperRequest.objects.exists()


def test_a_work_order_that_is_not_there_is_refused(technician: User) -> None:
    with pytest.raises(NotFound):
        paper.request_report(work_order_id=999, acting_user=technician, at=MORNING)


def test_more_rows_than_one_paper_holds_are_refused_with_the_number(
    order: WorkOrder, technician: User
) -> None:
    def much(*, work_order_id: int) -> tuple[seams.ReportSection, ...]:
        rows = tuple((str(n),) for n in range(2001))
        table = seams.Table("Readings", ("Reading",), rows)
        return (seams.ReportSection("much", "Readings", 30, (table,)),)

    seams.registry.register_sections("much", much)
    try:
        with pytest.raises(Refusal, match=r"one paper holds 2000") as refused:
            ask(order, technician)
    finally:
        seams.registry.unregister("much")
    assert refused.value.code == "paper-too-long"
    assert not PaperRequest.objects.exists()


def test_what_failed_is_tried_again_on_request(
    order: WorkOrder, technician: User
) -> None:
    asked = failed(ask(order, technician))
    again = paper.retry(paper_id=asked.pk, acting_user=technician, at=MORNING)
    assert (again.state, again.errors, again.failure_reason) == ("queued", 0, "")
    assert build_all() == 1
    assert HistoryEntry.objects.filter(verb="paper.retried").count() == 1


def test_asking_for_what_failed_tries_it_again(
    order: WorkOrder, technician: User
) -> None:
    failed(ask(order, technician))
    assert ask(order, technician).state == "queued"


def test_only_what_failed_can_be_tried_again(
    order: WorkOrder, technician: User
) -> None:
    asked = ask(order, technician)
    with pytest.raises(IllegalMove):
        paper.retry(paper_id=asked.pk, acting_user=technician, at=MORNING)
    with pytest.raises(NotFound):
        paper.retry(paper_id=asked.pk + 1, acting_user=technician, at=MORNING)
    with pytest.raises(NotAllowed):
        paper.retry(
            paper_id=asked.pk, acting_user=StorekeeperFactory.create(), at=MORNING
        )


def test_a_paper_whose_file_was_lost_is_made_anew_and_is_the_same(
    order: WorkOrder, technician: User
) -> None:
    asked = ask(order, technician)
    build_all()
    asked.refresh_from_db()
    was = asked.sha256
    default_storage.delete(asked.file_name)
    assert ask(order, technician).state == "queued"
    build_all()
    asked.refresh_from_db()
    assert asked.sha256 == was


def test_what_a_paper_says_cannot_be_changed_in_the_table(
    order: WorkOrder, technician: User
) -> None:
    asked = ask(order, technician)
    changes: list[dict[str, Any]] = [
        {"content": {}},
        {"digest": "0" * 64},
        {"requested_at": MORNING},
    ]
    for change in changes:
        with pytest.raises(IntegrityError), transaction.atomic():
            PaperRequest.objects.filter(pk=asked.pk).update(**change)
    with pytest.raises(IntegrityError), transaction.atomic():
        PaperRequest.objects.all().delete()


def failed(asked: PaperRequest) -> PaperRequest:
    PaperRequest.objects.filter(pk=asked.pk).update(
        state="failed", errors=3, failure_reason="The fonts are gone."
    )
    return asked
