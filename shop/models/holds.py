"""Holds: what is waited for, since when, and who released it."""

from django.db import models
from typing_extensions import override

from shop.domain.holds import HOLD_LABELS, HoldReason
from shop.models.columns import choices, one_of, row_id
from shop.models.people import User
from shop.models.tasks import Task
from shop.models.work_orders import WorkOrder


class HoldQuerySet(models.QuerySet["Hold"]):
    """Holds, narrowed."""

    def standing(self) -> "HoldQuerySet":
        """Keep those that are not released."""
        return self.filter(released_at__isnull=True)

    def of_work_order(self, work_order_id: int) -> "HoldQuerySet":
        """Keep those on one work order and its tasks, the oldest first."""
        return self.filter(work_order_id=row_id(work_order_id)).order_by("since", "pk")

    def that_stop(self, task: Task) -> "HoldQuerySet":
        """Keep those on the task itself, and those on the whole bike."""
        return self.of_work_order(task.work_order_id).filter(
            models.Q(task=task) | models.Q(task__isnull=True)
        )

    def of_whole_bike(self) -> "HoldQuerySet":
        """Keep those that stop all work on the bike."""
        return self.filter(task__isnull=True)


class Hold(models.Model):
    """One thing that is waited for; released once, never deleted."""

    work_order = models.ForeignKey(
        WorkOrder, on_delete=models.PROTECT, related_name="holds"
    )
    task = models.ForeignKey(
        Task, on_delete=models.PROTECT, null=True, blank=True, related_name="holds"
    )
    kind = models.CharField(max_length=20, choices=choices(HOLD_LABELS))
    detail = models.CharField(max_length=200)
    expected_on = models.DateField(null=True, blank=True)
    since = models.DateTimeField()
    placed_by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+")
    released_at = models.DateTimeField(null=True, blank=True)
    released_by = models.ForeignKey(
        User, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    release_note = models.CharField(max_length=200, blank=True)

    objects = models.Manager.from_queryset(HoldQuerySet)()

    class Meta:
        indexes = [
            models.Index(
                fields=["work_order"],
                condition=models.Q(released_at__isnull=True),
                name="hold_standing",
            ),
        ]
        constraints = [
            one_of("kind", HoldReason, name="hold_kind_known"),
            models.CheckConstraint(
                condition=~models.Q(detail=""), name="hold_has_detail"
            ),
            models.CheckConstraint(
                condition=models.Q(
                    released_at__isnull=True, released_by__isnull=True, release_note=""
                )
                | models.Q(released_at__isnull=False, released_by__isnull=False),
                name="hold_release_is_whole",
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show what is waited for."""
        return self.detail
