"""Photos and documents over the API."""

from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image
from pytest_django import Settings
from rest_framework.test import APIClient

from tests import pictures
from tests.builders import BikeFactory, StorekeeperFactory, UserFactory
from tests.shop.api.clients import client_of
from tests.shop.attached import attached

pytestmark = pytest.mark.django_db
LIST = "/api/attachments"


@pytest.fixture(autouse=True)
def _folder(settings: Settings, tmp_path: Path) -> None:
    settings.MEDIA_ROOT = tmp_path


@pytest.fixture
def bench() -> APIClient:
    return client_of(UserFactory())


def added(client: APIClient, content: bytes, **said: Any) -> Any:
    body = {"file": SimpleUploadedFile("x.bin", content), "about": "bike", **said}
    body.setdefault("about_id", BikeFactory().pk)
    return client.post(LIST, body, format="multipart")


def test_a_photo_is_added_read_captioned_and_fetched_without_its_place(
    bench: APIClient,
) -> None:
    bike = BikeFactory()
    answer = added(bench, pictures.heic(), about_id=bike.pk, caption="Loom")
    assert answer.status_code == 201
    row = answer.json()
    assert (row["kind"], row["caption"], row["about"], row["about_id"]) == (
        "photo",
        "Loom",
        "bike",
        bike.pk,
    )
    assert row["taken_at"].startswith("2026-03-01T16:45:10")
    one = f"{LIST}/{row['id']}"
    assert bench.patch(one, {"caption": "Horn"}, format="json").status_code == 200
    assert bench.get(one).json()["caption"] == "Horn"
    file = bench.get(f"{one}/file")
    assert file.headers["Content-Type"] == "image/jpeg"
    picture = Image.open(BytesIO(b"".join(file)))
    assert not dict(picture.getexif())
    listed = bench.get(f"{LIST}?about=bike&about_id={bike.pk}").json()
    assert [entry["id"] for entry in listed] == [row["id"]]


def test_the_same_file_sent_again_is_the_same_row(bench: APIClient) -> None:
    bike = BikeFactory()
    first = added(bench, pictures.jpeg(), about_id=bike.pk).json()
    assert added(bench, pictures.jpeg(), about_id=bike.pk).json() == first


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"", "file-empty"),
        (b"<html></html>", "file-type-unknown"),
        (pictures.jpeg()[:200], "photo-unreadable"),
        (pictures.png_bomb(), "photo-too-many-pixels"),
        (pictures.locked_pdf(), "pdf-locked"),
    ],
)
def test_a_refused_file_is_a_problem_document_that_names_the_field(
    bench: APIClient, content: bytes, code: str
) -> None:
    answer = added(bench, content)
    assert answer.status_code == 400
    assert answer.headers["Content-Type"] == "application/problem+json"
    assert (answer.json()["code"], answer.json()["field"]) == (code, "file")


def test_a_malformed_body_is_told_what_it_lacks(bench: APIClient) -> None:
    bodies: list[dict[str, Any]] = [
        {},
        {"about": "cupboard"},
        {"about": "bike", "about_id": 0},
    ]
    for said in bodies:
        answer = bench.post(LIST, said, format="multipart")
        assert answer.status_code == 400
        assert answer.json()["errors"]
    assert bench.get(LIST).status_code == 400
    assert bench.post(LIST, {"about": "bike"}, format="json").status_code == 415


def test_what_is_not_there_is_not_found(bench: APIClient) -> None:
    assert added(bench, pictures.jpeg(), about_id=404).status_code == 404
    for path in ("404", "404/file"):
        assert bench.get(f"{LIST}/{path}").status_code == 404


def test_a_photo_is_taken_away_with_a_reason_and_put_back(bench: APIClient) -> None:
    one = f"{LIST}/{attached().pk}"
    assert bench.post(f"{one}/remove", {}, format="json").status_code == 400
    gone = bench.post(f"{one}/remove", {"reason": "Wrong bike"}, format="json")
    assert gone.json()["is_removed"] is True
    assert bench.get(f"{one}/file").status_code == 404
    assert bench.post(f"{one}/put-back").json()["is_removed"] is False
    assert bench.post(f"{one}/put-back").status_code == 409


def test_papers_are_not_for_the_store() -> None:
    store = client_of(StorekeeperFactory())
    assert added(store, pictures.pdf()).status_code == 403
    paper = attached(content=pictures.pdf())
    assert store.get(f"{LIST}/{paper.pk}/file").status_code == 404
    assert APIClient().get(f"{LIST}/{paper.pk}/file").status_code == 401
