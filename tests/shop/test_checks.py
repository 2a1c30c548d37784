from pathlib import Path
from types import SimpleNamespace

import pytest
from django.core.checks import CheckMessage, run_checks

from shop import checks


@pytest.fixture
def settings(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> SimpleNamespace:
    """Settings that fit each other, and that only the checks look at."""
    settings = SimpleNamespace()
    settings.DEMO = False
    settings.ALLOWED_HOSTS = ["workshop.example"]
    settings.PUBLIC_URL = "https://workshop.example"
    settings.CELERY_BROKER_URL = "redis://redis/0"
    settings.WEB_PROCESSES = 4
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.VAR_DIR = tmp_path
    settings.DATABASES = {"default": {"ENGINE": "django.db.backends.postgresql"}}
    settings.CACHES = {
        "default": {"BACKEND": "django.core.cache.backends.redis.RedisCache"}
    }
    monkeypatch.setattr(checks, "settings", settings)
    return settings


def found() -> list[CheckMessage]:
    return [
        message
        for check in (
            checks.demo_stays_at_home,
            checks.broker_reaches_the_workers,
            checks.files_can_be_written,
            checks.public_address_fits,
            checks.links_are_private,
            checks.database_is_for_more_than_one,
            checks.limits_are_shared,
            checks.letters_leave_the_house,
        )
        for message in check()
    ]


def test_settings_that_fit_pass(settings: SimpleNamespace) -> None:
    assert found() == []


@pytest.mark.parametrize(
    ("setting", "value", "said"),
    [
        ("DEMO", True, "shop.E001"),
        ("CELERY_BROKER_URL", "memory://", "shop.E002"),
        ("VAR_DIR", Path("/proc/1/nowhere"), "shop.E003"),
        ("PUBLIC_URL", "https:/workshop", "shop.E004"),
        ("PUBLIC_URL", "http://workshop.example", "shop.W005"),
        ("PUBLIC_URL", "https://elsewhere.example", "shop.W006"),
        (
            "DATABASES",
            {"default": {"ENGINE": "django.db.backends.sqlite3"}},
            "shop.W007",
        ),
        (
            "CACHES",
            {"default": {"BACKEND": "django.core.cache.backends.locmem.LocMemCache"}},
            "shop.W008",
        ),
        (
            "EMAIL_BACKEND",
            "django.core.mail.backends.console.EmailBackend",
            "shop.W009",
        ),
    ],
)
def test_what_does_not_fit_is_named_with_a_hint(
    settings: SimpleNamespace, setting: str, value: object, said: str
) -> None:
    setattr(settings, setting, value)
    messages = [message for message in found() if message.id == said]
    assert len(messages) == 1
    assert messages[0].hint


def test_one_process_may_keep_broker_and_counters_in_memory(
    settings: SimpleNamespace,
) -> None:
    settings.WEB_PROCESSES = 1
    settings.CELERY_BROKER_URL = "memory://"
    settings.CACHES = {
        "default": {"BACKEND": "django.core.cache.backends.locmem.LocMemCache"}
    }
    assert found() == []


def test_a_host_may_be_allowed_by_its_domain(settings: SimpleNamespace) -> None:
    settings.ALLOWED_HOSTS = [".workshop.example"]
    settings.PUBLIC_URL = "https://bikes.workshop.example"
    assert found() == []


def test_django_runs_them(settings: SimpleNamespace) -> None:
    settings.DEMO = True
    assert "shop.E001" in {message.id for message in run_checks(tags=["security"])}
