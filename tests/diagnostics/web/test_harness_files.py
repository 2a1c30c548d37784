"""The library in the browser."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from diagnostics.models import HarnessFile
from tests.builders import StorekeeperFactory
from tests.diagnostics.builders import BENCH_TOML, a_library_file
from tests.diagnostics.web.test_bench import client_of

pytestmark = pytest.mark.django_db


def test_an_empty_library_says_what_to_do() -> None:
    page = client_of().get("/drawings/").content.decode()
    assert "The library is empty" in page
    assert "/drawings/add/" in page


def test_the_library_is_searched() -> None:
    a_library_file()
    client = client_of()
    assert "Heron 350" in client.get("/drawings/?q=tarn").content.decode()
    assert "No drawing carries" in client.get("/drawings/?q=sparrow").content.decode()


def upload(text: bytes, maker: str = "Tarnfell") -> str:
    file = SimpleUploadedFile("heron.toml", text)
    answer = client_of().post(
        "/drawings/add/",
        {"maker": maker, "model": "Heron 350", "years": "1961", "file": file},
        follow=True,
    )
    assert answer.status_code == 200
    return answer.content.decode()


def test_a_good_file_is_taken_and_shown() -> None:
    page = upload(BENCH_TOML.encode())
    assert "Tarnfell Heron 350 1961 is in the library." in page
    assert "GYBK" in page
    assert "grey with black tracer" in page


def test_a_bad_file_shows_each_problem_with_its_line() -> None:
    bad = BENCH_TOML.replace('kind = "fuse"', 'kind = "fuze"').replace(
        'to = "horn.1"', 'to = "hron.1"'
    )
    page = upload(bad.encode())
    assert "What is wrong with the file" in page
    for number, line in enumerate(bad.splitlines(), start=1):
        if "fuze" in line or "hron" in line:
            assert f'data-label="Line">{number}<' in page
    assert HarnessFile.objects.count() == 0
    assert 'value="Tarnfell"' in page


@pytest.mark.parametrize("text", [b"", b"\xff\xfe", b"hello", b"\x00" * 50])
def test_what_is_no_drawing_is_refused_kindly(text: bytes) -> None:
    assert "The file was not taken" in upload(text)
    assert HarnessFile.objects.count() == 0


def test_the_same_file_twice_is_refused_kindly() -> None:
    upload(BENCH_TOML.encode())
    assert "is in the library already" in upload(BENCH_TOML.encode(), maker="Other")


def test_a_storekeeper_reads_but_adds_nothing() -> None:
    file = a_library_file()
    client = client_of(StorekeeperFactory.create())
    assert client.get(f"/drawings/{file.pk}/").status_code == 200
    assert client.get("/drawings/add/").status_code == 403
    assert "/drawings/add/" not in client.get("/drawings/").content.decode()


def test_a_drawing_that_is_not_there_is_not_found() -> None:
    assert client_of().get(f"/drawings/{10**30}/").status_code == 404
