"""Clocks: a technician's running or ended stretch of work on a task."""

from django.db import models
from typing_extensions import override

from shop.domain.labour import LABOUR_KIND_LABELS, LabourKind
from shop.domain.pricing import BILLING_LABELS, Billing
from shop.models.columns import (
    MONEY_DIGITS,
    MONEY_PLACES,
    at_least,
    choices,
    one_of,
    row_id,
)
from shop.models.people import User
from shop.models.tasks import Task

ONE_RUNNING = "clock_one_running"


class ClockQuerySet(models.QuerySet["Clock"]):
    """Clocks, narrowed."""

    def running(self) -> "ClockQuerySet":
        """Keep those that have not been stopped."""
        return self.filter(stopped_at__isnull=True)

    def of_technician(self, technician_id: int) -> "ClockQuerySet":
        """Keep those of one technician."""
        return self.filter(technician_id=row_id(technician_id))

    def of_work_order(self, work_order_id: int) -> "ClockQuerySet":
        """Keep those on the tasks of one work order."""
        return self.filter(task__work_order_id=row_id(work_order_id))

    def with_job(self) -> "ClockQuerySet":
        """Fetch task, work order, bike and technician with them."""
        return self.select_related("task__work_order__bike", "technician")

    def with_booked(self) -> "ClockQuerySet":
        """Add up what was booked from each; what is struck out does not count."""
        standing = models.Q(labour_lines__voided_at__isnull=True)
        booked = models.Sum("labour_lines__minutes", filter=standing)
        return self.annotate(booked=booked)

    def oldest_first(self) -> "ClockQuerySet":
        """Sort by when they were started."""
        return self.order_by("started_at", "pk")


class Clock(models.Model):
    """A stretch of work; kind, bearer and rate are frozen when it is started."""

    task = models.ForeignKey(Task, on_delete=models.PROTECT, related_name="clocks")
    technician = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+")
    kind = models.CharField(max_length=20, choices=choices(LABOUR_KIND_LABELS))
    billing = models.CharField(max_length=20, choices=choices(BILLING_LABELS))
    note = models.CharField(max_length=400, blank=True)
    hourly_rate = models.DecimalField(
        max_digits=MONEY_DIGITS, decimal_places=MONEY_PLACES
    )
    started_at = models.DateTimeField()
    stopped_at = models.DateTimeField(null=True, blank=True)
    correction_reason = models.CharField(
        max_length=200, blank=True, help_text="Why its end was written by hand."
    )

    objects = models.Manager.from_queryset(ClockQuerySet)()

    class Meta:
        indexes = [
            models.Index(fields=["technician", "started_at"], name="clock_by_day"),
        ]
        constraints = [
            models.UniqueConstraint(
                fields=["technician"],
                condition=models.Q(stopped_at__isnull=True),
                name=ONE_RUNNING,
            ),
            models.CheckConstraint(
                condition=models.Q(stopped_at__isnull=True)
                | models.Q(stopped_at__gte=models.F("started_at")),
                name="clock_stops_after_start",
            ),
            models.CheckConstraint(
                condition=models.Q(correction_reason="")
                | models.Q(stopped_at__isnull=False),
                name="clock_corrected_is_stopped",
            ),
            one_of("kind", LabourKind, name="clock_kind_known"),
            one_of("billing", Billing, name="clock_billing_known"),
            at_least("hourly_rate", 0, name="clock_rate_not_negative"),
        ]

    @override
    def __str__(self) -> str:
        """Show the task and since when."""
        return f"task {self.task_id} since {self.started_at:%Y-%m-%d %H:%M}"
