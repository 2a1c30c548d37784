"""Absences: days on which a technician is away."""

from datetime import date

from django.db import models
from typing_extensions import override

from shop.models.columns import row_id
from shop.models.people import User


class AbsenceQuerySet(models.QuerySet["Absence"]):
    """Absences, narrowed."""

    def of_technician(self, technician_id: int) -> "AbsenceQuerySet":
        """Keep those of one technician."""
        return self.filter(technician_id=row_id(technician_id))

    def not_over(self, today: date) -> "AbsenceQuerySet":
        """Keep those that have not ended before today."""
        return self.filter(last_on__gte=today)

    def soonest_first(self) -> "AbsenceQuerySet":
        """Sort by the first day."""
        return self.order_by("first_on", "pk")


class Absence(models.Model):
    """Whole days away, the first and the last among them."""

    technician = models.ForeignKey(
        User, on_delete=models.PROTECT, related_name="absences"
    )
    first_on = models.DateField()
    last_on = models.DateField()
    reason = models.CharField(max_length=120, blank=True)
    entered_by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+")
    created_at = models.DateTimeField()

    objects = models.Manager.from_queryset(AbsenceQuerySet)()

    class Meta:
        indexes = [
            models.Index(fields=["last_on", "technician"], name="absence_to_come"),
        ]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(last_on__gte=models.F("first_on")),
                name="absence_days_in_order",
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show the days."""
        return f"{self.first_on} to {self.last_on}"
