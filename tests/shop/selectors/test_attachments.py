"""What is attached is shown to whom it concerns, the newest first."""

from datetime import timedelta
from pathlib import Path

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone
from pytest_django import Settings

from shop.actions.attachments import remove
from shop.actions.thumbnails import make_next
from shop.domain.attachments import Subject
from shop.domain.refusals import NotFound
from shop.domain.roles import Role, Viewer
from shop.models import Attachment
from shop.selectors.attachments import (
    attachment,
    attachment_file,
    attachment_panel,
    attachment_screen,
    attachment_thumbnail,
    attachments_of,
    bike_attachments,
    first_photos,
)
from tests import pictures
from tests.builders import MORNING, BikeFactory, UserFactory, WorkOrderFactory
from tests.shop.attached import attached

pytestmark = pytest.mark.django_db

TECHNICIAN = Viewer(1, "Ada", Role.TECHNICIAN)
KEEPER = Viewer(2, "Bo", Role.STOREKEEPER)


@pytest.fixture(autouse=True)
def _folder(settings: Settings, tmp_path: Path) -> None:
    settings.MEDIA_ROOT = tmp_path


def test_a_panel_shows_photos_and_documents_apart_the_newest_first() -> None:
    bike = BikeFactory(maker="Tarnfell", model="Heron 350", year=1961)
    for minutes in range(2):
        attached(
            subject_id=bike.pk,
            content=pictures.jpeg(60 + minutes),
            caption=f"photo {minutes}",
            at=MORNING + timedelta(minutes=minutes),
        )
    attached(subject_id=bike.pk, content=pictures.pdf())
    attached()
    panel = attachment_panel(
        subject=Subject.BIKE, subject_id=bike.pk, viewer=TECHNICIAN
    )
    assert [row.caption for row in panel.photos] == ["photo 1", "photo 0"]
    assert [row.page_count for row in panel.documents] == [2]
    assert panel.label == bike.name
    assert panel.may_add
    assert panel.may_add_documents
    assert panel.is_moving
    rows = attachments_of(subject=Subject.BIKE, subject_id=bike.pk, viewer=TECHNICIAN)
    assert [row.kind for row in rows] == ["photo", "document", "photo"]


def test_papers_that_name_people_are_not_for_who_may_not_see_customers() -> None:
    bike = BikeFactory()
    paper = attached(subject_id=bike.pk, content=pictures.pdf())
    photo = attached(subject_id=bike.pk)
    panel = attachment_panel(subject=Subject.BIKE, subject_id=bike.pk, viewer=KEEPER)
    assert panel.documents == ()
    assert not panel.may_add_documents
    assert [row.id for row in bike_attachments(bike_id=bike.pk, viewer=KEEPER)] == [
        photo.pk
    ]
    for look in (attachment, attachment_file):
        look(attachment_id=paper.pk, viewer=TECHNICIAN)
        with pytest.raises(NotFound):
            look(attachment_id=paper.pk, viewer=KEEPER)


@pytest.mark.parametrize("subject", list(Subject))
@pytest.mark.parametrize("pk", [0, 404, 10**30])
def test_what_is_not_there_has_no_panel(subject: Subject, pk: int) -> None:
    with pytest.raises(NotFound):
        attachment_panel(subject=subject, subject_id=pk, viewer=TECHNICIAN)


def test_all_that_belongs_to_a_bike_is_found_with_it() -> None:
    order = WorkOrderFactory()
    attached(subject_id=order.bike_id)
    attached(subject=Subject.WORK_ORDER, subject_id=order.pk)
    attached()
    rows = bike_attachments(bike_id=order.bike_id, viewer=TECHNICIAN)
    assert {(row.about, row.about_id) for row in rows} == {
        ("bike", order.bike_id),
        ("work-order", order.pk),
    }


def test_a_list_asks_once_for_the_first_photo_of_each() -> None:
    bikes = [BikeFactory() for _ in range(3)]
    oldest = [attached(subject_id=bike.pk) for bike in bikes[:2]]
    attached(
        subject_id=bikes[0].pk,
        content=pictures.png(),
        at=MORNING + timedelta(minutes=1),
    )
    with CaptureQueriesContext(connection) as asked:
        found = first_photos(
            subject=Subject.BIKE,
            subject_ids=[bike.pk for bike in bikes],
            viewer=TECHNICIAN,
        )
    assert len(asked) == 1
    assert {pk: row.id for pk, row in found.items()} == {
        row.bike_id: row.pk for row in oldest
    }


def test_a_panel_takes_the_same_two_queries_however_many_photos() -> None:
    bike = BikeFactory()
    for width in range(50, 56):
        attached(subject_id=bike.pk, content=pictures.jpeg(width))
    with CaptureQueriesContext(connection) as asked:
        attachment_panel(subject=Subject.BIKE, subject_id=bike.pk, viewer=TECHNICIAN)
    assert len(asked) == 2


def test_until_the_small_pictures_are_made_the_screen_shows_the_whole() -> None:
    row = attached()
    whole = attachment_screen(attachment_id=row.pk, viewer=TECHNICIAN)
    assert whole.content_type == "image/jpeg"
    with pytest.raises(NotFound):
        attachment_thumbnail(attachment_id=row.pk, viewer=TECHNICIAN)
    make_next(acting_user=None, at=timezone.now())
    screen = attachment_screen(attachment_id=row.pk, viewer=TECHNICIAN)
    small = attachment_thumbnail(attachment_id=row.pk, viewer=TECHNICIAN)
    assert screen.content_type == small.content_type == "image/webp"
    tags = {whole.tag, screen.tag, small.tag}
    assert len(tags) == 3
    assert attachment(attachment_id=row.pk, viewer=TECHNICIAN).has_thumbnail


def test_the_file_of_what_was_taken_away_is_handed_to_nobody() -> None:
    row = attached()
    remove(
        attachment_id=row.pk, reason="Wrong bike", acting_user=UserFactory(), at=MORNING
    )
    for look in (attachment_file, attachment_screen, attachment_thumbnail):
        with pytest.raises(NotFound):
            look(attachment_id=row.pk, viewer=TECHNICIAN)
    shown = attachment(attachment_id=row.pk, viewer=TECHNICIAN)
    assert (shown.is_removed, shown.removal_reason) == (True, "Wrong bike")
    assert row.bike_id is not None
    panel = attachment_panel(
        subject=Subject.BIKE, subject_id=row.bike_id, viewer=TECHNICIAN
    )
    assert panel.photos == ()


def test_a_document_has_no_picture_for_a_screen() -> None:
    row = attached(content=pictures.pdf())
    with pytest.raises(NotFound):
        attachment_screen(attachment_id=row.pk, viewer=TECHNICIAN)
    assert Attachment.objects.photos().count() == 0
