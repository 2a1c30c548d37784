"""Celery's tasks: each calls one action; what to do stands in the table.

All of them may run twice, at once or not at all: the table decides.
"""

from celery import shared_task
from django.utils import timezone

from shop import jobs
from shop.actions import paper_building, plan_building, plans, thumbnails
from shop.actions.attachments import DRAIN as DRAIN_THUMBNAILS
from shop.actions.paper import DRAIN

SWEEP = "shop.sweep_paper"
SWEEP_PLANS = "shop.sweep_plans"
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


@shared_task(name=plans.WORK_OUT, ignore_result=True)
def work_out_plans() -> None:
    """Work out plans until none waits."""
    for _ in range(BATCH):
        if not plan_building.work_out_next(
            acting_user=None, at=timezone.now(), clock=timezone.now
        ):
            return
    jobs.enqueue(plans.WORK_OUT)


@shared_task(name=SWEEP_PLANS, ignore_result=True)
def sweep_plans() -> None:
    """Put back plans that dead workers held."""
    plan_building.sweep_plans(acting_user=None, at=timezone.now())


@shared_task(name="shop.renew_plan", ignore_result=True)
def renew_plan() -> None:
    """Have a plan that is out of date worked out anew."""
    plans.renew_plan(acting_user=None, at=timezone.now())
