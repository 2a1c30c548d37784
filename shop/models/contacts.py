"""Contacts: further people to reach for a customer."""

from django.db import models
from typing_extensions import override

from shop.domain.contacts import WAY_LABELS, Way
from shop.models.columns import choices, one_of, row_id
from shop.models.customers import Customer


class ContactQuerySet(models.QuerySet["Contact"]):
    """Contacts, narrowed."""

    def of_customer(self, customer_id: int) -> "ContactQuerySet":
        """Keep one customer's, by name."""
        return self.filter(customer_id=row_id(customer_id)).order_by("name", "pk")

    def in_use(self) -> "ContactQuerySet":
        """Keep those that are still good."""
        return self.filter(retired_at__isnull=True)


class Contact(models.Model):
    """One person or number for a customer, with the way they prefer."""

    customer = models.ForeignKey(
        Customer, on_delete=models.PROTECT, related_name="contacts"
    )
    name = models.CharField(max_length=120)
    relation = models.CharField(max_length=80, blank=True)
    phone = models.CharField(max_length=40, blank=True)
    email = models.EmailField(blank=True)
    preferred = models.CharField(max_length=20, choices=choices(WAY_LABELS))
    notes = models.TextField(blank=True)
    created_at = models.DateTimeField()
    retired_at = models.DateTimeField(null=True, blank=True)

    objects = models.Manager.from_queryset(ContactQuerySet)()

    class Meta:
        constraints = [
            one_of("preferred", Way, name="contact_way_known"),
            models.CheckConstraint(
                condition=~models.Q(name=""), name="contact_has_name"
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show the name."""
        return self.name
