"""Real processes race for the same papers, die over them, and lose nothing."""

import os
import secrets
import shutil
import subprocess
import time
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from tests.journeys.service import free_port
from tests.shop.processes import (
    FILL,
    Workshop,
    is_begun,
    is_finished,
    kill,
    own_database,
    workshop,
    workshop_with_waiting_paper,
)

PAPERS = 5


def assert_each_is_there_once(shop: Workshop) -> None:
    papers = shop.wait_for(is_finished)
    assert len(papers) == PAPERS
    assert len({paper["sha256"] for paper in papers}) == PAPERS
    assert shop.files() == sorted(paper["file_name"] for paper in papers)


@pytest.fixture
def shop(tmp_path: Path) -> Workshop:
    return workshop_with_waiting_paper(tmp_path, PAPERS)


def test_two_workers_racing_make_each_paper_once(shop: Workshop) -> None:
    with (
        shop.process("one", "manage.py", "make_paper") as one,
        shop.process("two", "manage.py", "make_paper") as two,
    ):
        assert (one.wait(timeout=60), two.wait(timeout=60)) == (0, 0), shop.logs()
    assert_each_is_there_once(shop)
    assert [paper["attempts"] for paper in shop.papers()] == [1] * PAPERS
    taken = [line.split()[3] for line in shop.logs().splitlines() if "taken up" in line]
    assert sum(int(count.rstrip(",")) for count in taken) == PAPERS


def test_a_killed_process_leaves_its_paper_to_the_next(shop: Workshop) -> None:
    with shop.process("one", "manage.py", "make_paper") as one:
        shop.wait_for(is_begun)
        kill(one)
    held = [paper for paper in shop.papers() if paper["state"] == "building"]
    assert len(held) == 1
    time.sleep(5)  # the lease of the dead
    shop.manage("make_paper")
    assert_each_is_there_once(shop)
    restarted = [p for p in shop.papers() if p["crashes"] or p["attempts"] != 1]
    assert [(p["attempts"], p["crashes"], p["errors"]) for p in restarted] == [
        (2, 1, 0)
    ]


# --- with a real Redis and a real Celery worker ---------------------------------------


@pytest.fixture(scope="module")
def redis(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Give a Redis database that nobody else uses; start a server if none is given."""
    given = os.environ.get("LOOM_TEST_REDIS_URL")
    if given:
        yield urlsplit(given)._replace(path="/7").geturl()
        return
    program = shutil.which("redis-server")
    if program is None:
        pytest.skip("redis-server is installed by `bash .ci/setup`")
    port = free_port()
    folder = tmp_path_factory.mktemp("redis")
    server = subprocess.Popen(
        [program, "--port", str(port), "--bind", "127.0.0.1", "--save", ""],
        cwd=folder,
        stdout=subprocess.DEVNULL,
    )
    yield f"redis://127.0.0.1:{port}/7"
    server.terminate()
    server.wait(timeout=10)


@pytest.fixture
def large_shop(tmp_path: Path, redis: str) -> Iterator[Workshop]:
    """A shop with Redis, on PostgreSQL where one is given."""
    server = os.environ.get("LOOM_TEST_POSTGRES_URL")
    if server is None:
        yield workshop(tmp_path, LOOM_BROKER_URL=redis)
        return
    with own_database(server, f"paper_{secrets.token_hex(4)}") as url:
        yield workshop(tmp_path, LOOM_BROKER_URL=redis, LOOM_DATABASE_URL=url)


CELERY = ("-m", "celery", "-A", "shop.config")
WORKER = (*CELERY, "worker", "--concurrency", "2", "--loglevel", "WARNING")
BEAT = (*CELERY, "beat", "--loglevel", "WARNING", "--schedule")


@pytest.mark.redis
def test_a_killed_worker_and_a_dead_broker_lose_nothing(large_shop: Workshop) -> None:
    with (
        large_shop.process("worker-one", *WORKER) as worker,
        large_shop.process("office", "-c", FILL, str(PAPERS - 1)) as office,
    ):
        large_shop.wait_for(is_begun)
        kill(worker)
        assert office.wait(timeout=60) == 0, large_shop.logs()
    held = [paper for paper in large_shop.papers() if paper["state"] == "building"]
    assert 1 <= len(held) <= 2

    nobody = {**large_shop.env, "LOOM_BROKER_URL": f"redis://127.0.0.1:{free_port()}/0"}
    Workshop(large_shop.folder, nobody).fill(1)
    assert large_shop.papers()[-1]["state"] == "queued"

    with (
        large_shop.process("worker-two", *WORKER),
        large_shop.process("sweeper", *BEAT, str(large_shop.folder / "schedule")),
    ):
        assert_each_is_there_once(large_shop)
    for paper in large_shop.papers():
        was_held = paper["id"] in {other["id"] for other in held}
        assert paper["crashes"] == int(was_held)
        assert paper["attempts"] == 1 + int(was_held)
        assert paper["errors"] == 0
