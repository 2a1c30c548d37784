from pathlib import Path

import pytest
from django.core.exceptions import ImproperlyConfigured

from shop.config.env import (
    cache_from_url,
    database_from_url,
    env_bool,
    env_int,
    env_list,
    env_secret,
    env_text,
    mail_from_url,
)

NAME = "LOOM_TEST_ONLY"


@pytest.mark.parametrize(
    ("raw", "value"),
    [("yes", True), ("On", True), ("1", True), ("no", False), ("FALSE", False)],
)
def test_yes_and_no_are_read_as_people_write_them(
    monkeypatch: pytest.MonkeyPatch, raw: str, value: bool
) -> None:
    monkeypatch.setenv(NAME, raw)
    assert env_bool(NAME, default=not value) is value


def test_what_is_neither_stops_the_start(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(NAME, "maybe")
    with pytest.raises(ImproperlyConfigured, match="LOOM_TEST_ONLY='maybe'"):
        env_bool(NAME, default=False)
    with pytest.raises(ImproperlyConfigured, match="not a whole number"):
        env_int(NAME, 3)


def test_a_number_below_its_bound_stops_the_start(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv(NAME, "-1")
    with pytest.raises(ImproperlyConfigured, match="below 0"):
        env_int(NAME, 3)


def test_an_empty_variable_is_an_unset_one(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(NAME, "")
    assert env_text(NAME, "quiet") == "quiet"
    assert env_bool(NAME, default=True) is True
    assert env_int(NAME, 3) == 3
    assert env_secret(NAME) is None


def test_words_are_split_at_commas(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(NAME, "a.example, b.example,")
    assert env_list(NAME, "") == ["a.example", "b.example"]


def test_a_secret_comes_from_a_file_before_the_variable(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv(NAME, "from the variable")
    assert env_secret(NAME) == "from the variable"
    file = tmp_path / "secret"
    file.write_text("from the file\n", encoding="utf-8")
    monkeypatch.setenv(f"{NAME}_FILE", str(file))
    assert env_secret(NAME) == "from the file"
    file.write_text("\n", encoding="utf-8")
    with pytest.raises(ImproperlyConfigured, match="empty file"):
        env_secret(NAME)
    monkeypatch.setenv(f"{NAME}_FILE", str(tmp_path / "nowhere"))
    with pytest.raises(ImproperlyConfigured, match="cannot be read"):
        env_secret(NAME)


def test_a_database_is_sqlite_in_wal_or_postgresql() -> None:
    small = database_from_url("sqlite:////var/lib/shop/db.sqlite3")
    assert small["NAME"] == "/var/lib/shop/db.sqlite3"
    assert small["OPTIONS"]["transaction_mode"] == "IMMEDIATE"  # type: ignore[index]  # settings are untyped
    large = database_from_url("postgresql://ada:p%40ss@db:5433/shop?sslmode=require")
    assert (large["USER"], large["PASSWORD"], large["HOST"], large["PORT"]) == (
        "ada",
        "p@ss",
        "db",
        "5433",
    )
    assert large["OPTIONS"] == {"sslmode": "require"}
    with pytest.raises(ImproperlyConfigured, match="oracle"):
        database_from_url("oracle://x")


def test_a_cache_is_memory_or_redis() -> None:
    assert "locmem" in str(cache_from_url("memory://")["BACKEND"])
    assert cache_from_url("redis://r/1")["LOCATION"] == "redis://r/1"
    with pytest.raises(ImproperlyConfigured, match="neither"):
        cache_from_url("file:///tmp")


def test_mail_goes_to_the_log_or_out_by_smtp() -> None:
    assert "console" in mail_from_url("console://").backend
    start = mail_from_url("smtp://post@mail.example?tls=start")
    assert (start.host, start.port, start.user) == ("mail.example", 587, "post")
    assert (start.starttls, start.tls) == (True, False)
    assert mail_from_url("smtp://mail.example?tls=yes").port == 465
    assert mail_from_url("smtp://mail.example:2525").port == 2525
    for wrong in ("mail.example", "smtp://", "smtp://x?tls=perhaps"):
        with pytest.raises(ImproperlyConfigured, match="LOOM_EMAIL_URL"):
            mail_from_url(wrong)
