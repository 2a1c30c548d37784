"""Photos on their pages: sent from the phone, shown to who may see them."""

from io import BytesIO
from pathlib import Path

import pytest
from django.core.files.storage import default_storage
from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import HttpResponseBase
from django.test import Client
from django.utils import timezone
from PIL import Image
from pytest_django import Settings

from shop.actions.thumbnails import make_next
from shop.domain.attachments import Subject
from shop.domain.roles import Role
from shop.models import Attachment
from shop.web import attachments as pages
from tests import pictures
from tests.builders import BikeFactory, WorkOrderFactory
from tests.shop.attached import attached
from tests.shop.web.pages import as_role, html, no_query_while_rendering, url, words

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _folder(settings: Settings, tmp_path: Path) -> None:
    settings.MEDIA_ROOT = tmp_path


@pytest.fixture
def bench() -> Client:
    return as_role(Role.TECHNICIAN)


def sent(client: Client, address: str, *files: tuple[str, bytes]) -> HttpResponseBase:
    uploads = [SimpleUploadedFile(name, content) for name, content in files]
    return client.post(address, {"files": uploads})


def body(response: HttpResponseBase) -> bytes:
    return b"".join(response)


def test_several_photos_are_sent_at_once_and_wait_for_their_small_ones(
    bench: Client,
) -> None:
    bike = BikeFactory()
    address = url("attachments", "bike", bike.pk)
    files = [("a.jpg", pictures.jpeg()), ("b.heic", pictures.heic())]
    answer = sent(bench, address, *files, ("paper.pdf", pictures.pdf()))
    assert (answer.status_code, answer.headers["Location"]) == (302, address)
    page = bench.get(address)
    assert "All 3 added." in words(page)
    assert words(page).count("Small picture is being made") == 2
    assert "every 2s" in html(page)
    for _ in range(2):
        make_next(acting_user=None, at=timezone.now())
    page = bench.get(url("attachment_panel", "bike", bike.pk))
    assert html(page).count("/thumbnail/") == 2
    assert "every 2s" not in html(page)


def test_what_is_wrong_with_one_is_said_and_the_others_are_kept(bench: Client) -> None:
    order = WorkOrderFactory()
    address = url("attachments", "work-order", order.pk)
    answer = sent(
        bench,
        address,
        ("good.jpg", pictures.jpeg()),
        ("evil<b>.jpg", b"<svg onload='x()'/>"),
        ("cut.jpg", pictures.jpeg()[:200]),
        ("none.jpg", b""),
    )
    assert answer.status_code == 422
    said = words(answer)
    assert "1 added; 3 not:" in said
    assert "evil<b>.jpg : This is an SVG drawing" in said
    assert "cut.jpg : The picture is damaged or cut off" in said
    assert "none.jpg : The file is empty" in said
    assert "<b>" not in html(answer)
    assert Attachment.objects.count() == 1


def test_a_name_and_a_type_that_lie_change_nothing(bench: Client) -> None:
    bike = BikeFactory()
    address = url("attachments", "bike", bike.pk)
    lies = SimpleUploadedFile("photo.exe", pictures.jpeg(), content_type="text/html")
    bench.post(address, {"files": [lies]})
    row = Attachment.objects.get()
    answer = bench.get(url("attachment_file", row.pk))
    assert answer.headers["Content-Type"] == "image/jpeg"
    assert answer.headers["Content-Disposition"].startswith("inline")
    assert Image.open(BytesIO(body(answer))).format == "JPEG"


def test_sending_nothing_and_sending_a_hundred_are_answered_in_words(
    bench: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    address = url("attachments", "bike", BikeFactory().pk)
    assert "No file was chosen." in words(bench.post(address))
    monkeypatch.setattr(pages, "MOST_FILES", 1)
    answer = sent(bench, address, ("a.jpg", pictures.jpeg()), ("b.png", pictures.png()))
    assert "b.png : Not more than 1 at once" in words(answer)
    assert Attachment.objects.count() == 1


@pytest.mark.parametrize("about", ["bike", "work-order", "strip-tag", "advisory"])
def test_what_is_not_there_is_a_page_that_says_so(bench: Client, about: str) -> None:
    for answer in (
        bench.get(url("attachments", about, 404)),
        sent(bench, url("attachments", about, 404), ("a.jpg", pictures.jpeg())),
        bench.get(url("attachments", "cupboard", 1)),
    ):
        assert answer.status_code == 404


@pytest.mark.parametrize("name", ["file", "thumbnail", "screen"])
def test_no_file_goes_out_without_a_name_and_a_role(name: str) -> None:
    row = attached()
    make_next(acting_user=None, at=timezone.now())
    address = url(f"attachment_{name}", row.pk)
    stranger = Client().get(address)
    assert stranger.status_code == 302
    assert stranger.headers["Location"].startswith("/account/login/")
    answer = as_role(Role.STOREKEEPER).get(address)
    assert answer.status_code == 200
    assert answer.headers["Cache-Control"] == "private, no-cache"
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert answer.headers["Content-Security-Policy"] == "default-src 'none'; sandbox"
    assert body(answer)


def test_a_paper_that_names_people_is_not_handed_to_the_store() -> None:
    sent_in = pictures.pdf()
    row = attached(content=sent_in)
    address = url("attachment_file", row.pk)
    assert as_role(Role.STOREKEEPER).get(address).status_code == 404
    answer = as_role(Role.FRONT_DESK).get(address)
    assert answer.headers["Content-Type"] == "application/pdf"
    assert answer.headers["Content-Disposition"].startswith("attachment")
    assert body(answer) == sent_in


def test_what_the_browser_has_is_not_sent_twice_but_asked_for_each_time(
    bench: Client,
) -> None:
    row = attached()
    address = url("attachment_file", row.pk)
    tag = bench.get(address).headers["ETag"]
    again = bench.get(address, headers={"if-none-match": tag})
    assert again.status_code == 304
    assert again.headers["Cache-Control"] == "private, no-cache"
    stranger = Client().get(address, headers={"if-none-match": tag})
    assert stranger.status_code == 302


def test_a_file_that_is_lost_is_said_and_no_fault_of_the_program(
    bench: Client,
) -> None:
    row = attached()
    default_storage.delete(row.file_name)
    answer = bench.get(url("attachment_file", row.pk))
    assert answer.status_code == 404
    assert "missing from the storage" in words(answer)


def test_a_caption_is_written_and_a_photo_taken_away_and_put_back(
    bench: Client,
) -> None:
    row = attached()
    page = url("attachment", row.pk)
    bench.post(page, {"caption": "Horn bracket", "initial-caption": ""})
    assert "Horn bracket" in words(bench.get(page))
    answer = bench.post(url("attachment_remove", row.pk), {"reason": ""})
    assert answer.status_code == 422
    bench.post(url("attachment_remove", row.pk), {"reason": "Wrong bike"})
    assert "Taken away: Wrong bike" in words(bench.get(page))
    assert bench.get(url("attachment_file", row.pk)).status_code == 404
    bench.post(url("attachment_put_back", row.pk))
    assert bench.get(url("attachment_file", row.pk)).status_code == 200


def test_a_small_picture_that_failed_can_be_tried_again(bench: Client) -> None:
    row = attached()
    Attachment.objects.update(thumbnail_state="failed")
    assert "Try the small picture again" in words(bench.get(url("attachment", row.pk)))
    bench.post(url("attachment_retry", row.pk))
    assert Attachment.objects.get().thumbnail_state == "queued"


def test_the_pages_of_bikes_and_work_orders_have_a_place_for_photos(
    bench: Client,
) -> None:
    order = WorkOrderFactory()
    for name, pk, about in (
        ("bike", order.bike_id, "bike"),
        ("work_order", order.pk, "work-order"),
    ):
        assert url("attachment_panel", about, pk) in html(bench.get(url(name, pk)))


def test_showing_photos_asks_the_database_nothing_more(
    bench: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    row = attached(subject=Subject.BIKE)
    with no_query_while_rendering(monkeypatch):
        bench.get(url("attachments", "bike", row.bike_id))
        bench.get(url("attachment", row.pk))
