"""Bikes: frame and engine numbers as they are stamped, free text."""

from django.db import models
from typing_extensions import override

from shop.domain.bikes import (
    EARTH_LABELS,
    FIRST_YEAR,
    LAST_YEAR,
    EarthPolarity,
    SystemVoltage,
)
from shop.models.columns import choices, one_of, row_id
from shop.models.customers import Customer
from shop.models.searching import search_words


class BikeQuerySet(models.QuerySet["Bike"]):
    """Bikes, narrowed."""

    def matching(self, text: str) -> "BikeQuerySet":
        """Keep those whose maker, model or numbers hold every word."""
        found = self
        for word in search_words(text):
            found = found.filter(_holds(word))
        return found

    def matching_with_owner(self, text: str) -> "BikeQuerySet":
        """Keep those whose maker, model, numbers or owner hold every word."""
        found = self
        for word in search_words(text):
            found = found.filter(_holds(word) | models.Q(owner__name__icontains=word))
        return found

    def of_customer(self, customer_id: int) -> "BikeQuerySet":
        """Keep one customer's bikes."""
        return self.filter(owner_id=row_id(customer_id))

    def by_name(self) -> "BikeQuerySet":
        """Sort by maker, model and year."""
        return self.order_by("maker", "model", "year", "pk")


def _holds(word: str) -> models.Q:
    return (
        models.Q(maker__icontains=word)
        | models.Q(model__icontains=word)
        | models.Q(registration__icontains=word)
        | models.Q(frame_number__icontains=word)
        | models.Q(engine_number__icontains=word)
    )


class Bike(models.Model):
    """A motorcycle, with the two things to know before touching its loom."""

    owner = models.ForeignKey(Customer, on_delete=models.PROTECT, related_name="bikes")
    maker = models.CharField(max_length=80)
    model = models.CharField(max_length=80)
    year = models.PositiveSmallIntegerField(null=True, blank=True)
    registration = models.CharField(max_length=40, blank=True)
    frame_number = models.CharField(max_length=80, blank=True)
    engine_number = models.CharField(max_length=80, blank=True)
    colour = models.CharField(max_length=80, blank=True)
    system_volts = models.PositiveSmallIntegerField(
        choices=[(volts.value, f"{volts.value} V") for volts in SystemVoltage],
        default=SystemVoltage.TWELVE.value,
    )
    earth = models.CharField(
        max_length=10,
        choices=choices(EARTH_LABELS),
        default=EarthPolarity.NEGATIVE.value,
    )
    notes = models.TextField(blank=True)
    created_at = models.DateTimeField()

    objects = models.Manager.from_queryset(BikeQuerySet)()

    class Meta:
        indexes = [models.Index(fields=["maker", "model"], name="bike_maker_model")]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(system_volts__in=[v.value for v in SystemVoltage]),
                name="bike_volts_known",
            ),
            one_of("earth", EarthPolarity, name="bike_earth_known"),
            models.CheckConstraint(
                condition=models.Q(year__isnull=True)
                | models.Q(year__gte=FIRST_YEAR, year__lte=LAST_YEAR),
                name="bike_year_plausible",
            ),
            models.CheckConstraint(
                condition=~models.Q(maker="") & ~models.Q(model=""),
                name="bike_has_maker_and_model",
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show maker, model and year."""
        return self.name

    @property
    def name(self) -> str:
        """Maker, model and year in one line."""
        year = f" ({self.year})" if self.year else ""
        return f"{self.maker} {self.model}{year}"
