"""Odometer readings: rows are only ever added; a wrong one is corrected by another."""

from datetime import date

from django.db import models
from typing_extensions import override

from shop.domain.odometer_readings import (
    MOST_DISTANCE,
    ODOMETER_UNIT_LABELS,
    OdometerUnit,
)
from shop.models.bikes import Bike
from shop.models.columns import choices, one_of, row_id
from shop.models.people import User
from shop.models.work_orders import WorkOrder


class OdometerReadingQuerySet(models.QuerySet["OdometerReading"]):
    """Odometer readings, narrowed."""

    def of_bike(self, bike_id: int) -> "OdometerReadingQuerySet":
        """Keep one bike's readings."""
        return self.filter(bike_id=row_id(bike_id))

    def standing(self) -> "OdometerReadingQuerySet":
        """Keep those that no other corrects."""
        return self.filter(corrected_by__isnull=True)

    def until(self, day: date) -> "OdometerReadingQuerySet":
        """Keep those read on the day or before it."""
        return self.filter(read_on__lte=day)

    def after(self, day: date) -> "OdometerReadingQuerySet":
        """Keep those read later than the day."""
        return self.filter(read_on__gt=day)

    def but(self, reading: "OdometerReading | None") -> "OdometerReadingQuerySet":
        """Leave one out, if there is one to leave out."""
        return self if reading is None else self.exclude(pk=reading.pk)

    def latest_first(self) -> "OdometerReadingQuerySet":
        """Sort by day, the newest first."""
        return self.order_by("-read_on", "-pk")

    def earliest_first(self) -> "OdometerReadingQuerySet":
        """Sort by day, the oldest first."""
        return self.order_by("read_on", "pk")


class OdometerReading(models.Model):
    """What a bike's odometer showed on a day, who read it and on which job."""

    bike = models.ForeignKey(
        Bike, on_delete=models.PROTECT, related_name="odometer_readings"
    )
    work_order = models.ForeignKey(
        WorkOrder,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="odometer_readings",
    )
    corrects = models.OneToOneField(
        "self",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="corrected_by",
    )
    distance = models.DecimalField(max_digits=9, decimal_places=1)
    unit = models.CharField(max_length=10, choices=choices(ODOMETER_UNIT_LABELS))
    read_on = models.DateField()
    reason = models.CharField(max_length=200, blank=True)
    read_by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+")
    read_by_name = models.CharField(max_length=160)
    created_at = models.DateTimeField()

    objects = models.Manager.from_queryset(OdometerReadingQuerySet)()

    class Meta:
        indexes = [
            models.Index(fields=["bike", "-read_on"], name="odometer_of_bike"),
        ]
        constraints = [
            one_of("unit", OdometerUnit, name="odometer_unit_known"),
            models.CheckConstraint(
                condition=models.Q(distance__gte=0, distance__lt=MOST_DISTANCE),
                name="odometer_distance_in_range",
            ),
            models.CheckConstraint(
                condition=models.Q(corrects__isnull=True) | ~models.Q(reason=""),
                name="odometer_correction_has_reason",
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show figure and unit."""
        return f"{self.distance} {self.unit}"
