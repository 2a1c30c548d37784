"""Private links: how a customer reaches their own paper without an account."""

from datetime import datetime
from typing import Self

from django.db import models
from typing_extensions import override

from shop.models.customers import Customer
from shop.models.people import User


class CustomerLinkQuerySet(models.QuerySet["CustomerLink"]):
    """Private links, narrowed."""

    def of_customer(self, customer_id: int) -> Self:
        """Keep one customer's links, the newest first."""
        return self.filter(customer_id=customer_id).order_by("-made_at", "-pk")

    def standing(self, at: datetime) -> Self:
        """Keep those that open at this time."""
        return self.filter(revoked_at__isnull=True, expires_at__gt=at)


class CustomerLink(models.Model):
    """A link with a secret of which only the hash is kept."""

    customer = models.ForeignKey(
        Customer, on_delete=models.PROTECT, related_name="links"
    )
    secret_hash = models.CharField(max_length=64, unique=True)
    made_by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+")
    made_at = models.DateTimeField()
    expires_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True, blank=True)
    revoked_by = models.ForeignKey(
        User, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    last_used_at = models.DateTimeField(null=True, blank=True)

    objects = models.Manager.from_queryset(CustomerLinkQuerySet)()

    class Meta:
        indexes = [models.Index(fields=["customer", "-made_at"], name="links_of")]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(expires_at__gt=models.F("made_at")),
                name="link_expires_after_it_is_made",
            ),
            models.CheckConstraint(
                condition=models.Q(revoked_at__isnull=True, revoked_by__isnull=True)
                | models.Q(revoked_at__isnull=False, revoked_by__isnull=False),
                name="link_revoked_by_somebody",
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show whose link it is and until when it opens."""
        return f"{self.customer_id} until {self.expires_at:%Y-%m-%d}"
