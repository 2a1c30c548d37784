"""Whether anything that a plan was worked out from has changed since."""

from datetime import datetime

from django.utils import timezone

from shop.domain.plans import PLANNED_FROM
from shop.models import HistoryEntry, Plan


def is_out_of_date(plan: Plan, *, at: datetime) -> bool:
    """Say whether a day has gone by, or something of the plan's facts has happened."""
    if plan.first_day != timezone.localtime(at).date():
        return True
    since = HistoryEntry.objects.filter(pk__gt=plan.last_history_id)
    return since.filter(subject_kind__in=PLANNED_FROM).exists()
