"""Labour lines: whole minutes, at a rate frozen when they were booked."""

from datetime import date

from django.db import models
from typing_extensions import override

from shop.domain.labour import LABOUR_KIND_LABELS, MAX_MINUTES, LabourKind
from shop.domain.pricing import BILLING_LABELS, Billing
from shop.models.clocks import Clock
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
from shop.models.voiding import Voidable, void_is_whole
from shop.models.work_orders import WorkOrder


class LabourLineQuerySet(models.QuerySet["LabourLine"]):
    """Labour lines, narrowed."""

    def standing(self) -> "LabourLineQuerySet":
        """Keep those that count."""
        return self.filter(voided_at__isnull=True)

    def of_work_order(self, work_order_id: int) -> "LabourLineQuerySet":
        """Keep those of one work order, in the order of the work."""
        return self.filter(work_order_id=row_id(work_order_id)).order_by(
            "done_on", "pk"
        )

    def of_technician(self, technician_id: int) -> "LabourLineQuerySet":
        """Keep those of one technician."""
        return self.filter(technician_id=row_id(technician_id))

    def done_on_day(self, day: date) -> "LabourLineQuerySet":
        """Keep those of one day, in the order in which they were booked."""
        return self.filter(done_on=day).order_by("created_at", "pk")


class LabourLine(Voidable):
    """Time that somebody spent; voided with a reason, never edited or deleted."""

    work_order = models.ForeignKey(
        WorkOrder, on_delete=models.PROTECT, related_name="labour_lines"
    )
    technician = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+")
    technician_name = models.CharField(max_length=160)
    kind = models.CharField(max_length=20, choices=choices(LABOUR_KIND_LABELS))
    description = models.CharField(max_length=400)
    done_on = models.DateField()
    minutes = models.PositiveIntegerField()
    hourly_rate = models.DecimalField(
        max_digits=MONEY_DIGITS, decimal_places=MONEY_PLACES
    )
    tax_label = models.CharField(max_length=60)
    tax_percent = models.DecimalField(max_digits=6, decimal_places=3)
    created_at = models.DateTimeField()
    task = models.ForeignKey(
        Task,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="labour_lines",
    )
    clock = models.ForeignKey(
        Clock,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="labour_lines",
        help_text="The clock it comes from; none where it was entered by hand.",
    )
    billing = models.CharField(
        max_length=20,
        choices=choices(BILLING_LABELS),
        default=Billing.BILLABLE.value,
    )
    entry_reason = models.CharField(
        max_length=200, blank=True, help_text="Why it was entered by hand."
    )

    objects = models.Manager.from_queryset(LabourLineQuerySet)()

    class Meta:
        indexes = [
            models.Index(fields=["technician", "done_on"], name="labour_by_day"),
        ]
        constraints = [
            one_of("kind", LabourKind, name="labour_kind_known"),
            one_of("billing", Billing, name="labour_billing_known"),
            models.CheckConstraint(
                condition=models.Q(minutes__gte=1, minutes__lte=MAX_MINUTES),
                name="labour_minutes_in_a_day",
            ),
            at_least("hourly_rate", 0, name="labour_rate_not_negative"),
            at_least("tax_percent", 0, name="labour_tax_not_negative"),
            void_is_whole("labour_void_is_whole"),
        ]

    @override
    def __str__(self) -> str:
        """Show minutes and description."""
        return f"{self.minutes} min: {self.description}"
