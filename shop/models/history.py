"""History: who did what, when and why; rows are only ever added."""

from collections.abc import Sequence

from django.db import models
from typing_extensions import override

from shop.models.columns import row_id
from shop.models.people import User
from shop.models.work_orders import WorkOrder


class HistoryEntryQuerySet(models.QuerySet["HistoryEntry"]):
    """History, narrowed."""

    def of_work_order(self, work_order_id: int) -> "HistoryEntryQuerySet":
        """Keep everything that happened on one work order."""
        return self.filter(work_order_id=row_id(work_order_id))

    def of_subject(self, kind: str, subject_id: int) -> "HistoryEntryQuerySet":
        """Keep what happened to one thing."""
        return self.filter(subject_kind=kind, subject_id=row_id(subject_id))

    def of_bike(self, bike_id: int) -> "HistoryEntryQuerySet":
        """Keep what happened to one bike, on its work orders and outside them."""
        orders = WorkOrder.objects.of_bike(bike_id).values("pk")
        return self.filter(
            models.Q(work_order__in=orders)
            | models.Q(subject_kind="bike", subject_id=row_id(bike_id))
        )

    def about(self, nouns: Sequence[str]) -> "HistoryEntryQuerySet":
        """Keep acts whose verb begins with one of these words."""
        wanted = models.Q()
        for noun in nouns:
            wanted |= models.Q(verb__startswith=f"{noun}.")
        return self.filter(wanted)

    def but_about(self, nouns: Sequence[str]) -> "HistoryEntryQuerySet":
        """Leave out acts whose verb begins with one of these words."""
        found = self
        for noun in nouns:
            found = found.exclude(verb__startswith=f"{noun}.")
        return found

    def latest_first(self) -> "HistoryEntryQuerySet":
        """Sort by time, the newest first."""
        return self.order_by("-at", "-pk")


class HistoryEntry(models.Model):
    """One act: `verb` for machines, `summary` for people."""

    at = models.DateTimeField()
    actor = models.ForeignKey(
        User, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    actor_name = models.CharField(max_length=160)
    verb = models.CharField(max_length=60)
    subject_kind = models.CharField(max_length=40)
    subject_id = models.BigIntegerField()
    work_order = models.ForeignKey(
        WorkOrder,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="history",
    )
    summary = models.TextField()
    reason = models.TextField(blank=True)
    old_state = models.CharField(max_length=20, blank=True)
    new_state = models.CharField(max_length=20, blank=True)
    changes = models.JSONField(default=dict, blank=True)

    objects = models.Manager.from_queryset(HistoryEntryQuerySet)()

    class Meta:
        verbose_name_plural = "history entries"
        indexes = [
            models.Index(fields=["work_order", "-at"], name="history_work_order"),
            models.Index(
                fields=["subject_kind", "subject_id", "-at"], name="history_subject"
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show the summary."""
        return self.summary
