"""Rows that are struck out with a reason instead of being deleted."""

from django.db import models

from shop.models.people import User

VOID_COLUMNS = ("voided_at", "voided_by_id", "void_reason")


class Voidable(models.Model):
    """A row that may be voided once, with who, when and why."""

    voided_at = models.DateTimeField(null=True, blank=True)
    voided_by = models.ForeignKey(
        User, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    void_reason = models.CharField(max_length=200, blank=True)

    class Meta:
        abstract = True

    @property
    def is_void(self) -> bool:
        """Say whether the row no longer counts."""
        return self.voided_at is not None


def void_is_whole(name: str) -> models.CheckConstraint:
    """Return a check that a voided row has who and why, and a standing one neither."""
    return models.CheckConstraint(
        condition=models.Q(
            models.Q(voided_at__isnull=True, voided_by__isnull=True, void_reason="")
            | models.Q(
                ~models.Q(void_reason=""),
                voided_at__isnull=False,
                voided_by__isnull=False,
            )
        ),
        name=name,
    )
