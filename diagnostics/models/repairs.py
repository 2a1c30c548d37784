"""Repairs: what was done to the loom, and which segments it put right."""

from django.conf import settings
from django.db import models
from typing_extensions import override

from diagnostics.lifecycle import CaseState
from diagnostics.models.cases import Case


class RepairQuerySet(models.QuerySet["Repair"]):
    """Filters over repairs."""

    def of_case(self, case_id: int) -> "RepairQuerySet":
        """Keep one case's repairs in the order they were made."""
        return self.filter(case_id=case_id).order_by("sequence")

    def confirmed(self) -> "RepairQuerySet":
        """Keep those that a proof followed, and that say how the loom was bad.

        Of several repairs of a case, only the last is known to have been the cure.
        """
        proven = self.filter(
            case__state=CaseState.PROVEN, sequence=models.F("case__repairs_made")
        )
        return proven.exclude(mode="").order_by("pk")


class Repair(models.Model):
    """One repair; `sequence` numbers the looms of a case (the first repair is 1)."""

    case = models.ForeignKey(Case, on_delete=models.PROTECT, related_name="repairs")
    sequence = models.PositiveIntegerField()
    step = models.PositiveIntegerField()
    key = models.CharField(max_length=120)
    done = models.TextField()
    segments = models.JSONField(default=list)
    mode = models.CharField(max_length=12, blank=True)
    parts = models.CharField(max_length=400, blank=True)
    done_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )
    done_at = models.DateTimeField()

    objects = models.Manager.from_queryset(RepairQuerySet)()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["case", "sequence"], name="repair_sequence_once_a_case"
            ),
            models.UniqueConstraint(
                fields=["case", "key"], name="repair_key_once_a_case"
            ),
            models.CheckConstraint(
                condition=~models.Q(done="") & ~models.Q(key=""),
                name="repair_says_what_was_done",
            ),
        ]

    @override
    def __str__(self) -> str:
        return f"Repair {self.sequence} of case {self.case_id}"
