"""`manage.py make_paper`: make all waiting paper in this process."""

from typing import Any

from django.core.management.base import BaseCommand
from django.utils import timezone
from typing_extensions import override

from shop.actions import paper_building


class Command(BaseCommand):
    """Sweeps, then makes paper until none waits: with no worker and no broker."""

    help = (
        "Makes all paper that waits, in this process, and ends. Useful from cron in a "
        "shop without a worker, and to finish what a stopped worker left. Safe to run "
        "beside workers."
    )

    @override
    def handle(self, *args: Any, **options: Any) -> None:
        now = timezone.now
        swept = paper_building.sweep(acting_user=None, at=now())
        taken = 0
        while paper_building.build_next(acting_user=None, at=now(), clock=now):
            taken += 1
        self.stdout.write(f"papers taken up: {taken}, left by dead workers: {swept}")
