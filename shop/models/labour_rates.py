"""Rates of an hour by kind of labour: of one technician, or of the whole shop."""

from django.db import models
from typing_extensions import override

from shop.domain.labour import LABOUR_KIND_LABELS, LabourKind
from shop.models.columns import (
    MONEY_DIGITS,
    MONEY_PLACES,
    at_least,
    choices,
    one_of,
)
from shop.models.people import User


class LabourRateQuerySet(models.QuerySet["LabourRate"]):
    """Rates, narrowed."""

    def of_kind(self, kind: str) -> "LabourRateQuerySet":
        """Keep those of one kind of labour."""
        return self.filter(kind=kind)

    def for_person(self, technician_id: int) -> "LabourRateQuerySet":
        """Keep those of one technician and those of the whole shop."""
        return self.filter(
            models.Q(technician_id=technician_id) | models.Q(technician__isnull=True)
        )


class LabourRate(models.Model):
    """What an hour of one kind costs; without a technician, whoever works."""

    technician = models.ForeignKey(
        User,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="labour_rates",
    )
    kind = models.CharField(max_length=20, choices=choices(LABOUR_KIND_LABELS))
    hourly_rate = models.DecimalField(
        max_digits=MONEY_DIGITS, decimal_places=MONEY_PLACES
    )

    objects = models.Manager.from_queryset(LabourRateQuerySet)()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["technician", "kind"], name="labour_rate_once"
            ),
            models.UniqueConstraint(
                fields=["kind"],
                condition=models.Q(technician__isnull=True),
                name="labour_rate_of_shop_once",
            ),
            one_of("kind", LabourKind, name="labour_rate_kind_known"),
            at_least("hourly_rate", 0, name="labour_rate_kept_not_negative"),
        ]

    @override
    def __str__(self) -> str:
        """Show kind and rate."""
        return f"{self.kind}: {self.hourly_rate}"
