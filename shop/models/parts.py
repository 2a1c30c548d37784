"""The parts list: what the shop can put on a bike, and for how much."""

from django.db import models
from django.db.models.functions import Lower
from typing_extensions import override

from shop.domain.parts import (
    CONDITION_LABELS,
    UNIT_LABELS,
    PartCondition,
    PartUnit,
)
from shop.models.columns import (
    MONEY_DIGITS,
    MONEY_PLACES,
    at_least,
    choices,
    one_of,
)
from shop.models.searching import search_words
from shop.models.tax_rates import TaxRate


class PartQuerySet(models.QuerySet["Part"]):
    """Parts, narrowed."""

    def in_use(self) -> "PartQuerySet":
        """Keep those that new part lines may take."""
        return self.filter(is_retired=False)

    def in_condition(self, condition: PartCondition) -> "PartQuerySet":
        """Keep those in one condition."""
        return self.filter(condition=condition.value)

    def matching(self, text: str) -> "PartQuerySet":
        """Keep those whose number, description or bin hold every word."""
        found = self
        for word in search_words(text):
            found = found.filter(
                models.Q(number__icontains=word)
                | models.Q(description__icontains=word)
                | models.Q(bin__icontains=word)
            )
        return found

    def by_number(self) -> "PartQuerySet":
        """Sort by number."""
        return self.order_by("number", "condition", "pk")


class Part(models.Model):
    """A part in one condition, with the price that new lines copy."""

    number = models.CharField(max_length=60)
    description = models.CharField(max_length=200)
    condition = models.CharField(
        max_length=20,
        choices=choices(CONDITION_LABELS),
        default=PartCondition.NEW.value,
    )
    unit = models.CharField(
        max_length=10, choices=choices(UNIT_LABELS), default=PartUnit.EACH.value
    )
    price = models.DecimalField(
        max_digits=MONEY_DIGITS,
        decimal_places=MONEY_PLACES,
        help_text="For one unit, without tax.",
    )
    tax_rate = models.ForeignKey(
        TaxRate, on_delete=models.PROTECT, related_name="parts"
    )
    bin = models.CharField(max_length=40, blank=True)
    notes = models.TextField(blank=True)
    is_retired = models.BooleanField(default=False)

    objects = models.Manager.from_queryset(PartQuerySet)()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                Lower("number"), "condition", name="part_number_once_per_condition"
            ),
            one_of("condition", PartCondition, name="part_condition_known"),
            one_of("unit", PartUnit, name="part_unit_known"),
            at_least("price", 0, name="part_price_not_negative"),
            models.CheckConstraint(
                condition=~models.Q(number="") & ~models.Q(description=""),
                name="part_has_number_and_description",
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show number and description."""
        return f"{self.number} {self.description}"
