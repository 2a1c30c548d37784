"""The worker inside the web process: no Redis, no second process."""

from pathlib import Path

import pytest
from pytest_django import Settings

from shop.config import inprocess
from tests.shop.processes import workshop

SERVE = """
import time
import shop.config.wsgi  # what the server loads; it starts the worker
from django.utils import timezone
from shop.actions.paper import request_report
from shop.config import inprocess
from shop.models import PaperRequest
from tests.builders import OwnerFactory
from tests.shop.paper_room import order_with_work
owner = OwnerFactory.create()
assert inprocess.start()  # a second start starts nothing
began = time.monotonic()
for _ in range(3):
    order = order_with_work()
    request_report(work_order_id=order.pk, acting_user=owner, at=timezone.now())
while PaperRequest.objects.exclude(state="ready").exists():
    assert time.monotonic() - began < 60
    time.sleep(0.02)
print("ready", PaperRequest.objects.filter(state="ready", attempts=1).count())
"""


def test_the_web_process_makes_paper_by_itself(tmp_path: Path) -> None:
    shop = workshop(tmp_path)
    assert shop.python("-c", SERVE).strip() == "ready 3"


def test_what_a_stopped_process_left_is_made_after_the_next_start(
    tmp_path: Path,
) -> None:
    shop = workshop(tmp_path)
    shop.fill(2)  # this process ends at once, and its messages with it
    assert [paper["state"] for paper in shop.papers()] == ["queued", "queued"]
    wake = "import shop.config.wsgi, time\ntime.sleep(60)"
    with shop.process("web", "-c", wake):
        shop.wait_for(lambda found: {p["state"] for p in found} == {"ready"})


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
