"""Beliefs: what the engine concluded after each step of a case."""

from django.db import models
from typing_extensions import override

from diagnostics.models.cases import Case
from diagnostics.models.findings import Finding, FindingVoid
from diagnostics.models.repairs import Repair


class BeliefQuerySet(models.QuerySet["Belief"]):
    """Filters over beliefs."""

    def of_case(self, case_id: int) -> "BeliefQuerySet":
        """Keep one case's beliefs in the order they were held."""
        return self.filter(case_id=case_id).order_by("step")

    def with_causes(self) -> "BeliefQuerySet":
        """Fetch what led to each of them."""
        return self.select_related("finding", "void__finding", "repair")

    def without_segments(self) -> "BeliefQuerySet":
        """Leave the long columns out, for lists."""
        return self.defer("segments", "advice", "conflict", "confirming", "stopping")

    def before_step(self, step: int) -> "BeliefQuerySet":
        """Keep those held before a step."""
        return self.filter(step__lt=step)

    def latest_first(self) -> "BeliefQuerySet":
        """Sort by step, the latest first."""
        return self.order_by("-step")


class Belief(models.Model):
    """What was believed of a loom at one step, as it was computed then.

    Stored, so that the history can be replayed as it was seen on the day, even
    after the engine has learnt better; `engine` says which one concluded it.
    """

    case = models.ForeignKey(Case, on_delete=models.PROTECT, related_name="beliefs")
    step = models.PositiveIntegerField()
    finding = models.OneToOneField(
        Finding, on_delete=models.PROTECT, null=True, blank=True
    )
    void = models.OneToOneField(
        FindingVoid, on_delete=models.PROTECT, null=True, blank=True
    )
    repair = models.OneToOneField(
        Repair, on_delete=models.PROTECT, null=True, blank=True
    )
    faults = models.JSONField()
    segments = models.JSONField()
    advice = models.JSONField()
    conflict = models.JSONField(null=True, blank=True)
    isolated = models.JSONField(null=True, blank=True)
    confirming = models.JSONField(null=True, blank=True)
    stopping = models.JSONField(null=True, blank=True)
    engine = models.CharField(max_length=40)
    held_at = models.DateTimeField()

    objects = models.Manager.from_queryset(BeliefQuerySet)()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["case", "step"], name="belief_once_a_step"),
            models.CheckConstraint(
                condition=(
                    models.Q(
                        finding__isnull=True, void__isnull=True, repair__isnull=True
                    )
                    | models.Q(
                        finding__isnull=False, void__isnull=True, repair__isnull=True
                    )
                    | models.Q(
                        finding__isnull=True, void__isnull=False, repair__isnull=True
                    )
                    | models.Q(
                        finding__isnull=True, void__isnull=True, repair__isnull=False
                    )
                ),
                name="belief_has_one_cause_at_most",
            ),
        ]

    @override
    def __str__(self) -> str:
        return f"Belief of case {self.case_id} at step {self.step}"
