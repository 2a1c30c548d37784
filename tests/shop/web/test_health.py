import pytest
from django.db import DatabaseError
from django.test import Client


def test_a_process_that_answers_is_alive() -> None:
    answer = Client().get("/livez")
    assert (answer.status_code, answer.content) == (200, b"alive\n")
    assert "no-cache" in answer.headers["Cache-Control"]


@pytest.mark.django_db
def test_with_its_database_it_is_ready() -> None:
    assert Client().get("/readyz").content == b"ready\n"


def test_without_its_database_it_is_alive_and_not_ready(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def gone() -> None:
        raise DatabaseError("gone")

    monkeypatch.setattr("django.db.connection.cursor", gone)
    assert Client().get("/livez").status_code == 200
    answer = Client().get("/readyz")
    assert answer.status_code == 503
    assert b"database does not answer" in answer.content


def test_both_are_for_looking_only() -> None:
    assert Client().post("/livez").status_code == 405
    assert Client().head("/livez").status_code == 200
