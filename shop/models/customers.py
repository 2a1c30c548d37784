"""Customers: who owns a bike and pays for the work on it."""

from django.db import models
from typing_extensions import override

from shop.models.searching import search_words


class CustomerQuerySet(models.QuerySet["Customer"]):
    """Customers, narrowed."""

    def matching(self, text: str) -> "CustomerQuerySet":
        """Keep those whose name, phone, mail, address or bike holds every word."""
        found = self
        for word in search_words(text):
            found = found.filter(
                models.Q(name__icontains=word)
                | models.Q(phone__icontains=word)
                | models.Q(email__icontains=word)
                | models.Q(address__icontains=word)
            )
        return found

    def by_name(self) -> "CustomerQuerySet":
        """Sort by name."""
        return self.order_by("name", "pk")


class Customer(models.Model):
    """A person or firm that the shop works for."""

    name = models.CharField(max_length=120)
    address = models.TextField(blank=True)
    phone = models.CharField(max_length=40, blank=True)
    email = models.EmailField(blank=True)
    tax_number = models.CharField(max_length=40, blank=True)
    notes = models.TextField(blank=True)
    created_at = models.DateTimeField()

    objects = models.Manager.from_queryset(CustomerQuerySet)()

    class Meta:
        indexes = [models.Index(fields=["name"], name="customer_name")]
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(name=""), name="customer_has_name"
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show the name."""
        return self.name
