"""Counters: running numbers that no two rows can share."""

from django.db import models
from typing_extensions import override


class Counter(models.Model):
    """The last number given out under a name."""

    name = models.CharField(max_length=40, unique=True)
    last = models.PositiveIntegerField(default=0)

    @override
    def __str__(self) -> str:
        """Show name and last number."""
        return f"{self.name}: {self.last}"
