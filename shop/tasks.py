"""Celery's tasks: each calls one action; what to do stands in the table.

All of them may run twice, at once or not at all: the table decides.
"""

from celery import shared_task
from django.utils import timezone

from shop import jobs
from shop.actions import paper_building, thumbnails
from shop.actions.attachments import DRAIN as DRAIN_THUMBNAILS
from shop.actions.paper import DRAIN

SWEEP = "shop.sweep_paper"
SWEEP_THUMBNAILS = "shop.sweep_thumbnails"
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


@shared_task(name=DRAIN_THUMBNAILS, ignore_result=True)
def drain_thumbnails() -> None:
    """Make small pictures until none waits."""
    for _ in range(BATCH):
        if not thumbnails.make_next(acting_user=None, at=timezone.now()):
            return
    jobs.enqueue(DRAIN_THUMBNAILS)


@shared_task(name=SWEEP_THUMBNAILS, ignore_result=True)
def sweep_thumbnails() -> None:
    """Put back the photos that dead workers held."""
    thumbnails.sweep(acting_user=None, at=timezone.now())
