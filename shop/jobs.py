"""Wake a worker once the transaction is safe; the table itself is the queue.

A message says only "look into the table": losing one, or sending one too many,
changes nothing. That is why a broker that is down does not fail the request: the
row is committed, and the next sweep finds it.
"""

import logging
from functools import partial

from celery import current_app
from django.db import transaction
from kombu.exceptions import OperationalError

logger = logging.getLogger(__name__)

HINT_LIFE_S = 60
"""A hint older than this is dropped unread; the sweeper sends a fresh one."""


def enqueue(task_name: str, **ids: int | str) -> None:
    """Send one message for the task after the transaction has committed."""
    transaction.on_commit(partial(_send, task_name, ids))


def _send(task_name: str, ids: dict[str, int | str]) -> None:
    # Looked up, not sent by name: only so does Celery's eager mode apply.
    task = current_app.tasks[task_name]
    try:
        task.apply_async(kwargs=ids, retry=False, expires=HINT_LIFE_S)
    except (OperationalError, OSError) as fault:
        logger.warning("no worker was woken for %s: %s", task_name, fault)
