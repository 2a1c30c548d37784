"""The worker inside the web process: no Redis, no second process."""

from pathlib import Path

import pytest
from pytest_django import Settings

from shop.config import inprocess
from tests.shop.processes import workshop_with_waiting_paper

SERVE = """
import sys, time
import shop.config.wsgi  # what the server loads; it starts the worker
from shop.config import inprocess
from shop.models import PaperRequest
from tests.shop.processes import FILL
began = time.monotonic()
def wait():
    while PaperRequest.objects.exclude(state="ready").exists():
        assert time.monotonic() - began < 60
        time.sleep(0.02)
assert inprocess.start()  # a second start starts nothing
wait()
print("left before:", PaperRequest.objects.filter(state="ready").count())
sys.argv[1:] = ["2"]
exec(FILL)
wait()
print("made:", PaperRequest.objects.filter(state="ready", attempts=1).count())
"""


def test_the_web_process_makes_what_was_left_and_what_is_asked_for(
    tmp_path: Path,
) -> None:
    # Whoever asked for these two is gone, and with it the messages in its memory.
    shop = workshop_with_waiting_paper(tmp_path, 2)
    assert [paper["state"] for paper in shop.papers()] == ["queued", "queued"]
    assert shop.python("-c", SERVE).split("\n")[:2] == ["left before: 2", "made: 4"]
    assert len(shop.files()) == 4


@pytest.mark.parametrize(
    ("url", "wanted"),
    [("memory://", True), ("redis://127.0.0.1:6379/0", False)],
)
def test_only_a_broker_in_memory_wants_a_worker_here(
    url: str, wanted: bool, settings: Settings
) -> None:
    settings.CELERY_BROKER_URL = url
    assert inprocess.is_wanted() is wanted
    if not wanted:
        assert inprocess.start() is False
