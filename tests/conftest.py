"""What holds for every test: cheap passwords, no network, no silent skip."""

import os
import socket
from collections.abc import Generator, Iterator
from typing import Any

import pytest
from django.conf import settings

_DATABASE_FIXTURES = {"db", "transactional_db", "django_db_reset_sequences"}
_HOME = {"127.0.0.1", "localhost", "::1", ""}


def pytest_configure(config: pytest.Config) -> None:
    """Hash passwords cheaply: the hasher's strength is not what is tested."""
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark every test that touches the database, so that `-m django_db` finds it."""
    for item in items:
        if _DATABASE_FIXTURES.intersection(getattr(item, "fixturenames", ())):
            item.add_marker(pytest.mark.django_db)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(
    item: pytest.Item, call: pytest.CallInfo[None]
) -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Turn a skip into a failure where every part is meant to be there."""
    report = yield
    if os.environ.get("LOOM_TEST_NO_SKIPS") == "yes" and report.skipped:
        report.outcome = "failed"
        report.longrepr = f"skipped, though nothing may be: {report.longrepr}"
    return report


@pytest.fixture(scope="session", autouse=True)
def _no_network() -> Iterator[None]:
    """Refuse every connection that leaves this machine."""
    connect = socket.socket.connect

    def connect_here(self: socket.socket, address: Any) -> None:
        if self.family != socket.AF_UNIX and address[0] not in _HOME:
            raise AssertionError(f"a test tried to reach {address!r}")
        connect(self, address)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(socket.socket, "connect", connect_here)
        yield


def _from_environment(name: str, part: str) -> str:
    value = os.environ.get(name)
    if not value:
        pytest.skip(f"{part} is started by `bash .ci/test` ({name} is not set)")
    return value


@pytest.fixture(scope="session")
def postgres_url() -> str:
    """Return the URL of a PostgreSQL cluster where tests may create databases."""
    return _from_environment("LOOM_TEST_POSTGRES_URL", "PostgreSQL")


@pytest.fixture(scope="session")
def redis_url() -> str:
    """Return the URL of a Redis of our own."""
    return _from_environment("LOOM_TEST_REDIS_URL", "Redis")
