"""Measurements judged against limits. Never changed, never deleted."""

from django.conf import settings
from django.db import models
from typing_extensions import override

from diagnostics.models.cases import Case
from harness import measurements


class MeasurementQuerySet(models.QuerySet["Measurement"]):
    """Filters over measurements."""

    def of_case(self, case_id: int) -> "MeasurementQuerySet":
        """Keep one case's measurements in the order they were taken."""
        return self.filter(case_id=case_id).order_by("sequence")

    def with_people(self) -> "MeasurementQuerySet":
        """Fetch who took them, and any void, with them."""
        return self.select_related("taken_by", "void__voided_by")


class Measurement(models.Model):
    """One measurement, what was read and how it was judged then.

    `key` names the tap that sent it. `judgement` is kept whole, limit and source with
    it: a limit that changes later does not change what was said of the bike.
    """

    case = models.ForeignKey(
        Case, on_delete=models.PROTECT, related_name="measurements"
    )
    sequence = models.PositiveIntegerField()
    repairs_before = models.PositiveIntegerField()
    key = models.CharField(max_length=120)
    kind = models.CharField(max_length=40)
    readings = models.JSONField()
    verdict = models.CharField(max_length=16)
    judgement = models.JSONField()
    note = models.CharField(max_length=400, blank=True)
    taken_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )
    taken_at = models.DateTimeField()

    objects = models.Manager.from_queryset(MeasurementQuerySet)()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["case", "sequence"], name="measurement_sequence_once_a_case"
            ),
            models.UniqueConstraint(
                fields=["case", "key"], name="measurement_key_once_a_case"
            ),
            models.CheckConstraint(
                condition=models.Q(
                    verdict__in=[verdict.value for verdict in measurements.Verdict]
                ),
                name="measurement_verdict_known",
            ),
            models.CheckConstraint(
                condition=~models.Q(kind="") & ~models.Q(key=""),
                name="measurement_says_what_was_measured",
            ),
        ]

    @override
    def __str__(self) -> str:
        return f"Measurement {self.sequence}: {self.kind}, {self.verdict}"


class MeasurementVoid(models.Model):
    """A measurement withdrawn: why, by whom. The measurement itself stays."""

    measurement = models.OneToOneField(
        Measurement, on_delete=models.PROTECT, related_name="void"
    )
    reason = models.CharField(max_length=400)
    voided_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )
    voided_at = models.DateTimeField()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(reason=""), name="measurement_void_has_a_reason"
            ),
        ]

    @override
    def __str__(self) -> str:
        return f"Measurement {self.measurement_id} voided: {self.reason}"
