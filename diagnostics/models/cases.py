"""Cases: one fault hunt on one work order, against one harness file."""

from collections.abc import Sequence

from django.conf import settings
from django.db import models
from typing_extensions import override

from diagnostics.lifecycle import UNFINISHED, CaseState
from diagnostics.models.harness_files import HarnessFile


class CaseQuerySet(models.QuerySet["Case"]):
    """Filters over cases."""

    def of_work_order(self, work_order_id: int) -> "CaseQuerySet":
        """Keep the cases of one work order, oldest first."""
        return self.filter(work_order_id=work_order_id).order_by("opened_at", "pk")

    def of_bike(self, bike_id: int) -> "CaseQuerySet":
        """Keep the cases on all work orders of one bike."""
        return self.filter(work_order__bike_id=bike_id)

    def with_ids(self, case_ids: Sequence[int]) -> "CaseQuerySet":
        """Keep the cases of these ids."""
        return self.filter(pk__in=case_ids)

    def unfinished(self) -> "CaseQuerySet":
        """Keep the cases that still want a repair or its proof."""
        return self.filter(state__in=UNFINISHED)

    def finished(self) -> "CaseQuerySet":
        """Keep the cases that want nothing more."""
        return self.exclude(state__in=UNFINISHED)

    def with_surroundings(self) -> "CaseQuerySet":
        """Fetch the bike and the drawing with them, less the drawing's text."""
        return self.select_related(
            "work_order__bike", "harness_file", "opened_by"
        ).defer("harness_file__text")

    def newest_first(self) -> "CaseQuerySet":
        """Order by the time of opening, newest first."""
        return self.order_by("-opened_at", "-pk")


class Case(models.Model):
    """One fault hunt.

    `step` counts everything that happened to the case; whoever adds to it moves
    the counter by a conditional update, so that two hands cannot both build on
    the same belief.
    """

    work_order = models.ForeignKey(
        "shop.WorkOrder", on_delete=models.PROTECT, related_name="cases"
    )
    harness_file = models.ForeignKey(
        HarnessFile, on_delete=models.PROTECT, related_name="cases"
    )
    title = models.CharField(max_length=120)
    state = models.CharField(max_length=12, default=CaseState.OPEN.value)
    step = models.PositiveIntegerField(default=0)
    findings_taken = models.PositiveIntegerField(default=0)
    repairs_made = models.PositiveIntegerField(default=0)
    opened_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )
    opened_at = models.DateTimeField()

    objects = models.Manager.from_queryset(CaseQuerySet)()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=models.Q(state__in=[state.value for state in CaseState]),
                name="case_state_known",
            ),
            models.CheckConstraint(
                condition=~models.Q(title=""), name="case_has_a_title"
            ),
        ]

    @override
    def __str__(self) -> str:
        return f"Case {self.pk}: {self.title}"
