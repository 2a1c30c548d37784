"""Celery's tasks: each calls one action; what to do stands in the table.

All of them may run twice, at once or not at all: the table decides.
"""

from celery import shared_task
from django.utils import timezone

from shop import jobs
from shop.actions import paper_building
from shop.actions.paper import DRAIN

SWEEP = "shop.sweep_paper"
BATCH = 10
"""After so many papers a worker asks again, so that no task runs without end."""


@shared_task(name=DRAIN, ignore_result=True)
def drain_paper() -> None:
    """Make paper until none waits."""
    for _ in range(BATCH):
        if not paper_building.build_next(
            acting_user=None, at=timezone.now(), clock=timezone.now
        ):
            return
    jobs.enqueue(DRAIN)


@shared_task(name=SWEEP, ignore_result=True)
def sweep_paper() -> None:
    """Put back what dead workers held."""
    paper_building.sweep(acting_user=None, at=timezone.now())
