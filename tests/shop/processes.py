"""A shop as separate processes on a database of its own, for tests that kill some."""

import os
import shutil
import signal
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import psycopg
from django.conf import settings

from tests.rules.source import ROOT

PATIENCE_S = 60
DATABASE = "loomwright.sqlite3"
COLUMNS = ("id", "state", "attempts", "errors", "crashes", "file_name", "sha256")

# Asks for as many different reports of one work order as the argument says.
FILL = """
import sys, django
django.setup()
from django.utils import timezone
from shop.actions.paper import request_report
from shop.models import LabourLine, User, WorkOrder
from tests.builders import LabourLineFactory, OwnerFactory
from tests.shop.paper_room import order_with_work
owner = User.objects.filter(role="owner").first() or OwnerFactory.create()
order = WorkOrder.objects.first() or order_with_work()
for _ in range(int(sys.argv[1])):
    minutes = LabourLine.objects.count()
    LabourLineFactory.create(work_order=order, technician=owner, minutes=minutes)
    request_report(work_order_id=order.pk, acting_user=owner, at=timezone.now())
"""


@dataclass(frozen=True)
class Workshop:
    """The environment that all processes of one shop share."""

    folder: Path
    env: Mapping[str, str]

    def manage(self, *arguments: str) -> str:
        """Run one management command to its end."""
        return self.python("manage.py", *arguments)

    def fill(self, papers: int) -> None:
        """Let somebody ask for so many different papers."""
        self.python("-c", FILL, str(papers))

    def python(self, *arguments: str) -> str:
        """Run Python to its end."""
        done = subprocess.run(
            [sys.executable, *arguments],
            cwd=ROOT,
            env=dict(self.env),
            capture_output=True,
            text=True,
            check=False,
            timeout=PATIENCE_S * 2,
        )
        assert done.returncode == 0, done.stdout + done.stderr
        return done.stdout

    @contextmanager
    def process(self, name: str, *arguments: str) -> Iterator[subprocess.Popen[bytes]]:
        """Run Python in the background, as a process group that can be killed."""
        with (self.folder / f"{name}.log").open("wb") as log:
            running = subprocess.Popen(
                [sys.executable, *arguments],
                cwd=ROOT,
                env=dict(self.env),
                stdin=subprocess.DEVNULL,
                stdout=log,
                stderr=subprocess.STDOUT,
                start_new_session=True,
            )
            try:
                yield running
            finally:
                kill(running)

    def papers(self) -> list[dict[str, Any]]:
        """Return what stands in the table, seen from outside."""
        query = f"SELECT {', '.join(COLUMNS)} FROM shop_paperrequest ORDER BY id"  # noqa: S608 - fixed names
        url = self.env.get("LOOM_DATABASE_URL", "")
        if url:
            with psycopg.connect(url) as server:
                rows = server.execute(query.encode()).fetchall()
        else:
            path = self.folder / DATABASE
            with sqlite3.connect(path, timeout=20) as file:
                rows = file.execute(query).fetchall()
            file.close()
        return [dict(zip(COLUMNS, row, strict=True)) for row in rows]

    def wait_for(
        self, is_so: Callable[[list[dict[str, Any]]], bool]
    ) -> list[dict[str, Any]]:
        """Look at the table until it is so."""
        until = time.monotonic() + PATIENCE_S
        while time.monotonic() < until:
            found = self.papers()
            if is_so(found):
                return found
            time.sleep(0.02)
        raise AssertionError(f"{self.papers()}\n{self.logs()}")

    def logs(self) -> str:
        """Return what the processes have written."""
        return "\n".join(
            f"--- {path.name}\n{path.read_text(encoding='utf-8')}"
            for path in sorted(self.folder.glob("*.log"))
        )

    def files(self) -> list[str]:
        """Return the names of the finished files."""
        return sorted(
            f"paper/{path.name}" for path in (self.folder / "media/paper").glob("*")
        )


def kill(process: subprocess.Popen[bytes]) -> None:
    """End a process and its children without warning, as a power cut would."""
    if process.poll() is None:
        os.killpg(process.pid, signal.SIGKILL)
    process.wait(timeout=PATIENCE_S)


def workshop(folder: Path, **extra: str) -> Workshop:
    """Return a shop with an empty database of its own."""
    shop = Workshop(folder, _environment(folder, **extra))
    if "LOOM_DATABASE_URL" in extra:
        shop.manage("migrate", "--verbosity", "0")
    else:
        shutil.copy(_migrated(), folder / DATABASE)
    return shop


def workshop_with_waiting_paper(folder: Path, papers: int) -> Workshop:
    """Return a shop on SQLite in which so many papers wait."""
    shutil.copy(_filled(papers), folder / DATABASE)
    return Workshop(folder, _environment(folder))


@cache
def _migrated() -> Path:
    """Return an empty SQLite database, migrated once for all tests."""
    folder = Path(settings.VAR_DIR) / "migrated"
    folder.mkdir()
    Workshop(folder, _environment(folder)).manage("migrate", "--verbosity", "0")
    return _in_one_file(folder / DATABASE)


@cache
def _filled(papers: int) -> Path:
    folder = Path(settings.VAR_DIR) / f"filled-{papers}"
    folder.mkdir()
    workshop(folder).fill(papers)
    return _in_one_file(folder / DATABASE)


def _in_one_file(database: Path) -> Path:
    """Fold the write-ahead log in, so that copying the file takes all of it."""
    with sqlite3.connect(database) as file:
        file.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    file.close()
    return database


def _environment(folder: Path, **extra: str) -> dict[str, str]:
    plain = {k: v for k, v in os.environ.items() if not k.startswith("LOOM_")}
    return {
        **plain,
        "DJANGO_SETTINGS_MODULE": "shop.config.settings",
        "LOOM_DEMO": "yes",
        "LOOM_VAR_DIR": str(folder),
        "LOOM_PAPER_LEASE_S": "5",
        **extra,
    }


@contextmanager
def own_database(server_url: str, name: str) -> Iterator[str]:
    """Make a PostgreSQL database for the length of the block."""
    with psycopg.connect(server_url, autocommit=True) as server:
        server.execute(f'CREATE DATABASE "{name}"'.encode())
    try:
        yield urlsplit(server_url)._replace(path=f"/{name}").geturl()
    finally:
        with psycopg.connect(server_url, autocommit=True) as server:
            server.execute(f'DROP DATABASE "{name}" WITH (FORCE)'.encode())


def is_finished(found: list[dict[str, Any]]) -> bool:
    """Say whether every paper is there."""
    return bool(found) and all(paper["state"] == "ready" for paper in found)


def is_begun(found: list[dict[str, Any]]) -> bool:
    """Say whether a worker holds a paper now."""
    return any(paper["state"] == "building" for paper in found)
