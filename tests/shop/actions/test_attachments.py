"""Photos and documents are checked, made clean, kept once, taken away with reason."""

from datetime import UTC, datetime
from pathlib import Path

import pytest
from django.core.files.storage import default_storage
from django.db import IntegrityError, transaction
from pytest_django import DjangoCaptureOnCommitCallbacks, Settings

from shop.actions import attachments as actions
from shop.actions.attachments import (
    edit_caption,
    put_back,
    remove,
    retry_thumbnail,
)
from shop.domain.attachments import Subject
from shop.domain.refusals import IllegalMove, NotAllowed, NotFound, Refusal
from shop.domain.strip_tags import TagFate
from shop.models import Advisory, Attachment, HistoryEntry, ShopSettings, StripTag
from tests import pictures
from tests.builders import (
    MORNING,
    BikeFactory,
    ShopSettingsFactory,
    StorekeeperFactory,
    UserFactory,
    WorkOrderFactory,
)
from tests.shop.attached import attached

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def folder(settings: Settings, tmp_path: Path) -> Path:
    settings.MEDIA_ROOT = tmp_path
    return tmp_path


def files(folder: Path) -> list[Path]:
    return [path for path in folder.rglob("*") if path.is_file()]


def test_a_photo_of_a_bike_is_kept_without_its_place_and_waits_for_small_ones(
    django_capture_on_commit_callbacks: DjangoCaptureOnCommitCallbacks,
) -> None:
    bike = BikeFactory()
    with django_capture_on_commit_callbacks() as hints:
        row = attached(subject_id=bike.pk, caption=" Loom at the headstock ")
    assert (row.bike, row.caption, row.kind) == (bike, "Loom at the headstock", "photo")
    assert (row.width, row.height, row.content_type) == (60, 40, "image/jpeg")
    assert row.taken_at == datetime(2026, 3, 1, 16, 45, 10, tzinfo=UTC)
    assert row.thumbnail_state == "queued"
    with default_storage.open(row.file_name) as file:
        kept = file.read()
    assert len(kept) == row.byte_count
    assert b"Exif" not in kept
    assert len(hints) == 1
    entry = HistoryEntry.objects.get()
    assert (entry.subject_kind, entry.subject_id) == ("bike", bike.pk)
    assert entry.summary == "Photo “Loom at the headstock” added"


def test_the_name_on_the_disk_says_nothing_and_cannot_be_guessed(folder: Path) -> None:
    one, other = attached(), attached()
    assert one.file_name != other.file_name
    assert len(Path(one.file_name).stem) == 32
    assert len(files(folder)) == 2


def test_the_camera_is_taken_to_stand_in_the_shops_own_time_zone() -> None:
    ShopSettingsFactory()
    ShopSettings.objects.update(time_zone="Asia/Tokyo")
    row = attached(content=pictures.jpeg(offset=""))
    assert row.taken_at == datetime(2026, 3, 1, 8, 45, 10, tzinfo=UTC)


def test_a_heic_of_a_work_order_stands_in_its_history() -> None:
    order = WorkOrderFactory()
    row = attached(
        subject=Subject.WORK_ORDER, subject_id=order.pk, content=pictures.heic()
    )
    assert (row.work_order, row.content_type) == (order, "image/jpeg")
    assert HistoryEntry.objects.get().work_order == order


def test_a_strip_tag_and_an_advisory_take_photos_too() -> None:
    order, person = WorkOrderFactory(), UserFactory()
    tag = StripTag.objects.create(
        number=1,
        work_order=order,
        name="Dynamo",
        fate=TagFate.REFIT.value,
        state_since=MORNING,
        taken_off_by=person,
        taken_off_at=MORNING,
    )
    seen = Advisory.objects.create(
        work_order=order,
        what="Fork seal weeps",
        place="Left fork leg",
        urgency="soon",
        noticed_at=MORNING,
        noticed_by=person,
    )
    for subject, pk in ((Subject.STRIP_TAG, tag.pk), (Subject.ADVISORY, seen.pk)):
        attached(subject=subject, subject_id=pk)
    assert [entry.work_order for entry in HistoryEntry.objects.all()] == [order, order]


def test_the_same_file_sent_again_is_the_same_photo(folder: Path) -> None:
    bike = BikeFactory()
    first = attached(subject_id=bike.pk)
    again = attached(subject_id=bike.pk)
    assert again == first
    assert len(files(folder)) == HistoryEntry.objects.count() == 1
    attached()  # another bike has its own
    assert Attachment.objects.count() == 2


def test_two_phones_that_send_the_same_at_once_leave_one_and_no_file_behind(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    bike = BikeFactory()
    first = attached(subject_id=bike.pk)
    look = actions._known
    # The second one looked just before the first one was written.
    answers = iter([True])
    monkeypatch.setattr(
        actions,
        "_known",
        lambda *args: None if next(answers, False) else look(*args),
    )
    assert attached(subject_id=bike.pk) == first
    assert len(files(folder)) == 1


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"", "file-empty"),
        (
            b"<svg xmlns='urn:x' onload='x()'/>",
            "file-type-unknown",
        ),
        (b"<!doctype html><script>1</script>", "file-type-unknown"),
        (pictures.jpeg()[:300], "photo-unreadable"),
        (pictures.png_bomb(), "photo-too-many-pixels"),
        (pictures.pdf_that_acts(), "pdf-acts"),
    ],
)
def test_what_is_refused_leaves_no_file_and_no_row(
    content: bytes, code: str, folder: Path
) -> None:
    with pytest.raises(Refusal) as refused:
        attached(content=content)
    assert (refused.value.code, refused.value.field) == (code, "file")
    assert files(folder) == []
    assert not Attachment.objects.exists()


def test_a_file_whose_row_cannot_be_written_is_taken_away_again(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def cut_off(*args: object, **kwargs: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(actions, "_write", cut_off)
    with pytest.raises(KeyboardInterrupt):
        attached()
    assert files(folder) == []


@pytest.mark.parametrize("subject", list(Subject))
@pytest.mark.parametrize("pk", [0, 404, 10**30])
def test_what_is_not_there_takes_nothing(subject: Subject, pk: int) -> None:
    with pytest.raises(NotFound):
        attached(subject=subject, subject_id=pk)


def test_an_ended_work_order_takes_no_photos_and_keeps_those_it_has(
    folder: Path,
) -> None:
    order = WorkOrderFactory()
    row = attached(subject=Subject.WORK_ORDER, subject_id=order.pk)
    order.state, order.ended_at = "closed", MORNING
    order.save()
    with pytest.raises(IllegalMove):
        attached(
            subject=Subject.WORK_ORDER, subject_id=order.pk, content=pictures.png()
        )
    with pytest.raises(IllegalMove):
        remove(attachment_id=row.pk, reason="x", acting_user=UserFactory(), at=MORNING)
    assert len(files(folder)) == 1


def test_a_pdf_is_kept_byte_for_byte_and_needs_no_small_picture() -> None:
    sent = pictures.pdf(3)
    row = attached(content=sent)
    assert (row.kind, row.page_count, row.thumbnail_state) == ("document", 3, "none")
    with default_storage.open(row.file_name) as file:
        assert file.read() == sent


def test_a_storekeeper_adds_photos_but_no_papers_that_name_people() -> None:
    keeper = StorekeeperFactory()
    attached(acting_user=keeper)
    with pytest.raises(NotAllowed):
        attached(acting_user=keeper, content=pictures.pdf())
    paper = attached(content=pictures.pdf(4))
    with pytest.raises(NotAllowed):
        remove(attachment_id=paper.pk, reason="x", acting_user=keeper, at=MORNING)


def test_a_caption_is_changed_and_the_history_says_so() -> None:
    row, person = attached(), UserFactory()
    for _ in range(2):
        edit_caption(
            attachment_id=row.pk, caption="Horn", acting_user=person, at=MORNING
        )
    row.refresh_from_db()
    assert row.caption == "Horn"
    assert HistoryEntry.objects.filter(verb="attachment.captioned").count() == 1
    with pytest.raises(Refusal) as refused:
        edit_caption(
            attachment_id=row.pk, caption="x" * 201, acting_user=person, at=MORNING
        )
    assert refused.value.field == "caption"


def test_a_photo_is_taken_away_with_a_reason_and_put_back() -> None:
    row, person = attached(), UserFactory()
    with pytest.raises(Refusal):
        remove(attachment_id=row.pk, reason=" ", acting_user=person, at=MORNING)
    remove(attachment_id=row.pk, reason="Wrong bike", acting_user=person, at=MORNING)
    with pytest.raises(IllegalMove):
        remove(attachment_id=row.pk, reason="x", acting_user=person, at=MORNING)
    with pytest.raises(IllegalMove):
        edit_caption(attachment_id=row.pk, caption="x", acting_user=person, at=MORNING)
    put_back(attachment_id=row.pk, acting_user=person, at=MORNING)
    with pytest.raises(IllegalMove):
        put_back(attachment_id=row.pk, acting_user=person, at=MORNING)
    row.refresh_from_db()
    assert (row.removed_at, row.removed_by, row.removal_reason) == (None, None, "")


def test_what_was_added_anew_meanwhile_is_not_put_back_twice() -> None:
    row, person = attached(), UserFactory()
    remove(attachment_id=row.pk, reason="Blurred", acting_user=person, at=MORNING)
    assert row.bike_id is not None
    again = attached(subject_id=row.bike_id)
    assert again != row
    with pytest.raises(IllegalMove):
        put_back(attachment_id=row.pk, acting_user=person, at=MORNING)


def test_only_a_small_picture_that_failed_is_tried_again() -> None:
    row, person = attached(), UserFactory()
    with pytest.raises(IllegalMove):
        retry_thumbnail(attachment_id=row.pk, acting_user=person, at=MORNING)
    Attachment.objects.update(thumbnail_state="failed", errors=3)
    retry_thumbnail(attachment_id=row.pk, acting_user=person, at=MORNING)
    row.refresh_from_db()
    assert (row.thumbnail_state, row.errors) == ("queued", 0)


def test_the_database_refuses_an_attachment_of_two_things_or_of_none() -> None:
    row = attached()
    for change in (
        {"work_order": WorkOrderFactory()},
        {"bike": None},
        {"page_count": 3},
        {"thumbnail_name": "x"},
        {"removed_at": MORNING},
    ):
        with pytest.raises(IntegrityError), transaction.atomic():
            Attachment.objects.filter(pk=row.pk).update(**change)
