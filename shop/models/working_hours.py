"""Working hours: each technician's week at the bench."""

from decimal import Decimal

from django.db import models
from typing_extensions import override

from shop.domain.working_hours import USUAL_HOURS, WEEKDAYS
from shop.models.people import User

NO_HOURS = Decimal(0)


class WorkingHoursQuerySet(models.QuerySet["WorkingHours"]):
    """Working hours, narrowed."""

    def of_technicians(self, ids: list[int]) -> "WorkingHoursQuerySet":
        """Keep those of these technicians."""
        return self.filter(technician_id__in=ids)


class WorkingHours(models.Model):
    """One technician's week; who has no row works the usual one."""

    technician = models.OneToOneField(
        User, on_delete=models.PROTECT, related_name="working_hours"
    )
    monday = models.DecimalField(max_digits=4, decimal_places=2, default=USUAL_HOURS)
    tuesday = models.DecimalField(max_digits=4, decimal_places=2, default=USUAL_HOURS)
    wednesday = models.DecimalField(max_digits=4, decimal_places=2, default=USUAL_HOURS)
    thursday = models.DecimalField(max_digits=4, decimal_places=2, default=USUAL_HOURS)
    friday = models.DecimalField(max_digits=4, decimal_places=2, default=USUAL_HOURS)
    saturday = models.DecimalField(max_digits=4, decimal_places=2, default=NO_HOURS)
    sunday = models.DecimalField(max_digits=4, decimal_places=2, default=NO_HOURS)

    objects = models.Manager.from_queryset(WorkingHoursQuerySet)()

    class Meta:
        verbose_name_plural = "working hours"
        constraints = [
            models.CheckConstraint(
                condition=models.Q(
                    **{f"{weekday}__gte": 0 for weekday in WEEKDAYS},
                    **{f"{weekday}__lte": 24 for weekday in WEEKDAYS},
                ),
                name="working_hours_in_a_day",
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show whose they are."""
        return f"hours of {self.technician_id}"
