"""Findings: one test and its reading each. Never changed, never deleted."""

from collections.abc import Sequence

from django.conf import settings
from django.db import models
from typing_extensions import override

from diagnostics.lifecycle import Origin
from diagnostics.models.cases import Case

TOOLS = ("test-lamp", "voltmeter", "ohmmeter", "ammeter", "eye")
_WITHOUT_LEADS = ("eye", "ammeter")


class FindingQuerySet(models.QuerySet["Finding"]):
    """Filters over findings."""

    def of_case(self, case_id: int) -> "FindingQuerySet":
        """Keep one case's findings in the order they were taken."""
        return self.filter(case_id=case_id).order_by("sequence")

    def counted(self) -> "FindingQuerySet":
        """Keep the findings that nobody has voided."""
        return self.filter(void__isnull=True)

    def on_loom(self, repairs_made: int) -> "FindingQuerySet":
        """Keep what was read on the loom as it was after that many repairs."""
        return self.filter(repairs_before=repairs_made)

    def with_keys(self, keys: Sequence[str]) -> "FindingQuerySet":
        """Keep the findings that came with these taps' keys."""
        return self.filter(key__in=keys)

    def with_people(self) -> "FindingQuerySet":
        """Fetch who took them, and any void and retested finding with them."""
        return self.select_related("taken_by", "void__voided_by", "retest_of")


class Finding(models.Model):
    """One test and what it read.

    `key` names the tap that sent it: the same tap sent twice is one finding.
    `repairs_before` names the loom it was read on: a repair makes a new one.
    `wire` is what the ammeter was closed round; `moving` says that the loom was being
    moved about while it was read.
    """

    case = models.ForeignKey(Case, on_delete=models.PROTECT, related_name="findings")
    sequence = models.PositiveIntegerField()
    step = models.PositiveIntegerField()
    repairs_before = models.PositiveIntegerField()
    key = models.CharField(max_length=120)
    rig = models.JSONField()
    tool = models.CharField(max_length=12)
    probe = models.CharField(max_length=120, blank=True)
    clip = models.CharField(max_length=120, blank=True)
    device = models.CharField(max_length=120, blank=True)
    wire = models.CharField(max_length=120, blank=True)
    moving = models.BooleanField(default=False)
    reads = models.CharField(max_length=24)
    origin = models.CharField(max_length=12)
    note = models.CharField(max_length=400, blank=True)
    retest_of = models.ForeignKey(
        "self",
        on_delete=models.PROTECT,
        related_name="retests",
        null=True,
        blank=True,
    )
    taken_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )
    taken_at = models.DateTimeField()

    objects = models.Manager.from_queryset(FindingQuerySet)()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["case", "sequence"], name="finding_sequence_once_a_case"
            ),
            models.UniqueConstraint(
                fields=["case", "key"], name="finding_key_once_a_case"
            ),
            models.CheckConstraint(
                condition=models.Q(tool__in=TOOLS), name="finding_tool_known"
            ),
            models.CheckConstraint(
                condition=models.Q(origin__in=[origin.value for origin in Origin]),
                name="finding_origin_known",
            ),
            models.CheckConstraint(
                condition=~models.Q(reads="") & ~models.Q(key=""),
                name="finding_reads_something",
            ),
            models.CheckConstraint(
                condition=(
                    models.Q(tool="eye", probe="", clip="", wire="")
                    & ~models.Q(device="")
                )
                | (
                    models.Q(tool="ammeter", probe="", clip="", device="")
                    & ~models.Q(wire="")
                )
                | (
                    ~models.Q(tool__in=_WITHOUT_LEADS)
                    & ~models.Q(probe="")
                    & ~models.Q(clip="")
                    & models.Q(device="", wire="")
                ),
                name="finding_names_where",
            ),
            models.CheckConstraint(
                condition=models.Q(retest_of__isnull=True)
                | models.Q(origin=Origin.RETEST.value),
                name="finding_retest_has_that_origin",
            ),
        ]

    @override
    def __str__(self) -> str:
        leads = f"{self.probe} to {self.clip}"
        where = f"wire {self.wire}" if self.wire else self.device or leads
        moved = ", loom moved" if self.moving else ""
        return f"Finding {self.sequence}: {self.tool} {where} reads {self.reads}{moved}"


class FindingVoid(models.Model):
    """A finding withdrawn: which, why, by whom. The finding itself stays."""

    finding = models.OneToOneField(
        Finding, on_delete=models.PROTECT, related_name="void"
    )
    step = models.PositiveIntegerField()
    reason = models.CharField(max_length=400)
    voided_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )
    voided_at = models.DateTimeField()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(reason=""), name="finding_void_has_a_reason"
            ),
        ]

    @override
    def __str__(self) -> str:
        return f"Finding {self.finding_id} voided: {self.reason}"
