"""Suppliers: who works for the shop outside it, or sells it parts."""

from django.db import models
from typing_extensions import override

from shop.models.columns import at_least
from shop.models.searching import search_words


class SupplierQuerySet(models.QuerySet["Supplier"]):
    """Suppliers, narrowed."""

    def in_use(self) -> "SupplierQuerySet":
        """Keep those that new work may go to."""
        return self.filter(is_retired=False)

    def matching(self, text: str) -> "SupplierQuerySet":
        """Keep those whose name, contact, phone, mail or address hold every word."""
        found = self
        for word in search_words(text):
            found = found.filter(
                models.Q(name__icontains=word)
                | models.Q(contact__icontains=word)
                | models.Q(phone__icontains=word)
                | models.Q(email__icontains=word)
                | models.Q(address__icontains=word)
            )
        return found

    def by_name(self) -> "SupplierQuerySet":
        """Sort by name."""
        return self.order_by("name", "pk")


class Supplier(models.Model):
    """A firm or person that does outside work or sells parts."""

    name = models.CharField(max_length=120)
    contact = models.CharField(max_length=120, blank=True)
    phone = models.CharField(max_length=40, blank=True)
    email = models.EmailField(blank=True)
    address = models.TextField(blank=True)
    trades = models.JSONField(default=list, blank=True)
    lead_days = models.PositiveSmallIntegerField(null=True, blank=True)
    markup_percent = models.DecimalField(max_digits=6, decimal_places=2, default=0)
    notes = models.TextField(blank=True)
    is_retired = models.BooleanField(default=False)
    created_at = models.DateTimeField()

    objects = models.Manager.from_queryset(SupplierQuerySet)()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(name=""), name="supplier_has_name"
            ),
            at_least("markup_percent", 0, name="supplier_markup_not_negative"),
        ]

    @override
    def __str__(self) -> str:
        """Show the name."""
        return self.name
