"""Tax rates: never edited, only retired, so that old lines stay true."""

from django.db import models
from typing_extensions import override

from shop.models.columns import at_least


class TaxRateQuerySet(models.QuerySet["TaxRate"]):
    """Tax rates, narrowed."""

    def in_use(self) -> "TaxRateQuerySet":
        """Keep those that new lines may take."""
        return self.filter(is_retired=False)

    def highest_first(self) -> "TaxRateQuerySet":
        """Sort by percent, the highest first."""
        return self.order_by("-percent", "label", "pk")


class TaxRate(models.Model):
    """A rate with its name; lines keep a frozen copy of both."""

    label = models.CharField(max_length=60)
    percent = models.DecimalField(max_digits=6, decimal_places=3)
    is_retired = models.BooleanField(default=False)

    objects = models.Manager.from_queryset(TaxRateQuerySet)()

    class Meta:
        constraints = [
            models.UniqueConstraint("label", name="tax_rate_label_once"),
            at_least("percent", 0, name="tax_rate_not_negative"),
            models.CheckConstraint(
                condition=models.Q(percent__lte=100), name="tax_rate_at_most_100"
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show label and percent."""
        return f"{self.label} ({self.percent.normalize():f} %)"
