"""The worker inside the web process: for the demo and for a shop of one machine.

`start()` runs a Celery worker (pool "solo", one paper at a time) and the sweeper as
threads of this process. `shop/config/wsgi.py` calls it when the broker is
`memory://`, after the server has forked, so that gunicorn, runserver and the tests
of the demo need nothing more. Messages live in this process alone and vanish with
it; the rows stay, and the first sweep after the next start picks them up.

With any other broker this does nothing: run `celery -A shop.config worker` and
`celery -A shop.config beat` instead.
"""

import logging
import threading
from collections.abc import Callable

from celery import Celery
from django.conf import settings
from django.db import connection

from shop.config.celery import SWEEP_EVERY_S, app
from shop.tasks import renew_plan, sweep_paper, sweep_plans, sweep_thumbnails

logger = logging.getLogger(__name__)

_started = threading.Event()
_starting = threading.Lock()


def is_wanted() -> bool:
    """Say whether the broker lives in this process."""
    return bool(settings.CELERY_BROKER_URL.startswith("memory:"))


def start() -> bool:
    """Start worker and sweeper once in this process; say whether they run here."""
    if not is_wanted():
        return False
    with _starting:
        if not _started.is_set():
            _thread("paper-worker", _work)
            _thread("paper-sweeper", _sweep)
            _started.set()
    return True


def _thread(name: str, target: Callable[[], None]) -> None:
    threading.Thread(target=target, name=name, daemon=True).start()


def _work(application: Celery = app) -> None:
    worker = application.WorkController(
        pool_cls="solo",
        concurrency=1,
        without_heartbeat=True,
        without_mingle=True,
        without_gossip=True,
        loglevel=logging.WARNING,
    )
    worker.start()


def _sweep() -> None:
    pause = threading.Event()
    while True:
        try:
            sweep_paper()
            sweep_thumbnails()
            sweep_plans()
            renew_plan()
        except Exception:
            # A database that is locked or not migrated yet must not end the sweeper.
            logger.exception("the sweep failed; the next one follows")
            connection.close()
        pause.wait(SWEEP_EVERY_S)
