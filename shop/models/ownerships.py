"""Ownerships: whose a bike was, from when to when."""

from django.db import models
from typing_extensions import override

from shop.models.bikes import Bike
from shop.models.columns import row_id
from shop.models.customers import Customer


class OwnershipQuerySet(models.QuerySet["Ownership"]):
    """Ownerships, narrowed."""

    def of_bike(self, bike_id: int) -> "OwnershipQuerySet":
        """Keep one bike's owners."""
        return self.filter(bike_id=row_id(bike_id))

    def of_customer(self, customer_id: int) -> "OwnershipQuerySet":
        """Keep what one customer owns or owned."""
        return self.filter(customer_id=row_id(customer_id))

    def present(self) -> "OwnershipQuerySet":
        """Keep those that last."""
        return self.filter(ended_on__isnull=True)

    def ended(self) -> "OwnershipQuerySet":
        """Keep those that are over."""
        return self.filter(ended_on__isnull=False)

    def latest_first(self) -> "OwnershipQuerySet":
        """Sort by when they were written down, the newest first."""
        return self.order_by("-pk")


class Ownership(models.Model):
    """One customer's time with a bike; no first day where nobody knows it."""

    bike = models.ForeignKey(Bike, on_delete=models.PROTECT, related_name="ownerships")
    customer = models.ForeignKey(
        Customer, on_delete=models.PROTECT, related_name="ownerships"
    )
    began_on = models.DateField(null=True, blank=True)
    ended_on = models.DateField(null=True, blank=True)
    note = models.CharField(max_length=400, blank=True)
    created_at = models.DateTimeField()

    objects = models.Manager.from_queryset(OwnershipQuerySet)()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["bike"],
                condition=models.Q(ended_on__isnull=True),
                name="ownership_one_present_owner",
            ),
            models.CheckConstraint(
                condition=models.Q(began_on__isnull=True)
                | models.Q(ended_on__isnull=True)
                | models.Q(ended_on__gte=models.F("began_on")),
                name="ownership_ends_after_it_began",
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show the days."""
        return f"{self.began_on or '?'} to {self.ended_on or 'now'}"
