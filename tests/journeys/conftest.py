"""The shops that journeys walk through, and the browser they walk in."""

import secrets
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import psycopg
import pytest
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

from tests.journeys.service import Service, running

CHROMIUM = "/usr/bin/chromium"
# As root, and without the background calls that a closed network would refuse.
CHROMIUM_ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
PATIENCE_MS = 30_000


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark what stands in this folder."""
    here = Path(__file__).parent
    for item in items:
        if item.path.is_relative_to(here):
            item.add_marker(pytest.mark.journey)


@pytest.fixture(scope="package")
def browser() -> Iterator[Browser]:
    """Start Debian's Chromium once; it ends before other tests use the database."""
    if not Path(CHROMIUM).exists():
        pytest.skip(f"no browser at {CHROMIUM}; `bash .ci/setup` installs it")
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(
            executable_path=CHROMIUM, args=CHROMIUM_ARGUMENTS
        )
        yield chromium
        chromium.close()


@pytest.fixture(scope="package")
def small_shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Service]:
    """Serve the demo as its command does: SQLite, the worker in the web process."""
    with running(tmp_path_factory.mktemp("small"), {}, workers=False) as service:
        yield service


@pytest.fixture(scope="package")
def large_shop(
    tmp_path_factory: pytest.TempPathFactory, postgres_url: str, redis_url: str
) -> Iterator[Service]:
    """Serve on PostgreSQL, with Redis, a Celery worker and the sweeper."""
    name = f"journey_{secrets.token_hex(4)}"
    with psycopg.connect(postgres_url, autocommit=True) as server:
        server.execute(f'CREATE DATABASE "{name}"'.encode())
    extra = {
        "LOOM_DATABASE_URL": urlsplit(postgres_url)._replace(path=f"/{name}").geturl(),
        "LOOM_BROKER_URL": redis_url,
        "LOOM_CACHE_URL": _next_database(redis_url),
    }
    try:
        folder = tmp_path_factory.mktemp("large")
        with running(folder, extra, workers=True) as service:
            yield service
    finally:
        with psycopg.connect(postgres_url, autocommit=True) as server:
            server.execute(f'DROP DATABASE "{name}" WITH (FORCE)'.encode())


def _next_database(redis_url: str) -> str:
    before, _, number = redis_url.rpartition("/")
    return f"{before}/{int(number) + 1}"


@pytest.fixture
def page(browser: Browser, request: pytest.FixtureRequest) -> Iterator[Page]:
    """Open a page of its own: phone size, or the size that the test asks for.

    Any error that a script throws, and any file that does not load, fails the test.
    """
    width, height = getattr(request, "param", (390, 844))
    context: BrowserContext = browser.new_context(
        viewport={"width": width, "height": height},
        has_touch=width < 600,
        reduced_motion="reduce",
    )
    context.set_default_timeout(PATIENCE_MS)
    opened = context.new_page()
    troubles: list[str] = []
    opened.on("pageerror", lambda error: troubles.append(f"script: {error}"))
    opened.on(
        "console",
        lambda message: (
            troubles.append(f"console: {message.text}")
            if message.type == "error"
            else None
        ),
    )
    opened.on(
        "response",
        lambda answer: (
            troubles.append(f"{answer.status} {answer.url}")
            if answer.status >= 500
            else None
        ),
    )
    yield opened
    context.close()
    assert troubles == []
