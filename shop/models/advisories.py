"""Advisories: what was noticed in passing on a bike."""

from django.db import models
from typing_extensions import override

from shop.domain.advisories import OUTCOME_LABELS, URGENCY_LABELS, Outcome, Urgency
from shop.models.columns import choices, one_of, row_id
from shop.models.people import User
from shop.models.tasks import Task
from shop.models.work_orders import WorkOrder


class AdvisoryQuerySet(models.QuerySet["Advisory"]):
    """Advisories, narrowed."""

    def of_work_order(self, work_order_id: int) -> "AdvisoryQuerySet":
        """Keep those noticed on one work order, the oldest first."""
        return self.filter(work_order_id=row_id(work_order_id)).order_by(
            "noticed_at", "pk"
        )

    def of_bike(self, bike_id: int) -> "AdvisoryQuerySet":
        """Keep those noticed on one bike, whatever the work order."""
        return self.filter(work_order__bike_id=row_id(bike_id)).order_by(
            "noticed_at", "pk"
        )

    def unsafe_and_untold(self) -> "AdvisoryQuerySet":
        """Keep what makes a bike unsafe and has neither been told nor mended."""
        return self.filter(urgency=Urgency.UNSAFE.value, told_at__isnull=True).exclude(
            outcome=Outcome.TASK.value
        )


class Advisory(models.Model):
    """Something seen while at other work: what, where, how urgent."""

    work_order = models.ForeignKey(
        WorkOrder, on_delete=models.PROTECT, related_name="advisories"
    )
    what = models.CharField(max_length=400)
    place = models.CharField(max_length=120, help_text="Where on the bike.")
    urgency = models.CharField(max_length=20, choices=choices(URGENCY_LABELS))
    noticed_at = models.DateTimeField()
    noticed_by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+")
    told_at = models.DateTimeField(null=True, blank=True)
    told_by = models.ForeignKey(
        User, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    told_how = models.CharField(max_length=120, blank=True)
    outcome = models.CharField(
        max_length=20, choices=choices(OUTCOME_LABELS), default=Outcome.OPEN.value
    )
    outcome_reason = models.CharField(max_length=200, blank=True)
    task = models.OneToOneField(
        Task, on_delete=models.PROTECT, null=True, blank=True, related_name="advisory"
    )

    objects = models.Manager.from_queryset(AdvisoryQuerySet)()

    class Meta:
        verbose_name_plural = "advisories"
        constraints = [
            one_of("urgency", Urgency, name="advisory_urgency_known"),
            one_of("outcome", Outcome, name="advisory_outcome_known"),
            models.CheckConstraint(
                condition=~models.Q(what="") & ~models.Q(place=""),
                name="advisory_has_what_and_where",
            ),
            models.CheckConstraint(
                condition=models.Q(
                    told_at__isnull=True, told_by__isnull=True, told_how=""
                )
                | models.Q(
                    ~models.Q(told_how=""),
                    told_at__isnull=False,
                    told_by__isnull=False,
                ),
                name="advisory_told_is_whole",
            ),
            models.CheckConstraint(
                condition=models.Q(outcome=Outcome.TASK.value, task__isnull=False)
                | models.Q(~models.Q(outcome=Outcome.TASK.value), task__isnull=True),
                name="advisory_task_iff_became_one",
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show what was noticed."""
        return self.what
