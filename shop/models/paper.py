"""Requested paper: the row is the order, the queue and the receipt in one."""

from datetime import datetime
from typing import Self

from django.db import models
from typing_extensions import override

from shop.domain.paper import FOR_CUSTOMERS, STEPS, PaperKind, PaperState
from shop.models.columns import one_of
from shop.models.people import User
from shop.models.work_orders import WorkOrder

STATE_LABELS = {
    PaperState.QUEUED: "Waiting",
    PaperState.BUILDING: "Being made",
    PaperState.READY: "Ready",
    PaperState.FAILED: "Could not be made",
}
KIND_LABELS = {
    PaperKind.WORK_ORDER_REPORT: "Report of work",
    PaperKind.STRIP_TAG_LABELS: "Strip tag labels",
}


class PaperRequestQuerySet(models.QuerySet["PaperRequest"]):
    """Requested paper, narrowed."""

    def of_work_order(self, work_order_id: int) -> Self:
        """Keep the paper of one work order."""
        return self.filter(work_order_id=work_order_id)

    def of_customer(self, customer_id: int) -> Self:
        """Keep what a customer may have of the work that they pay for."""
        return self.filter(
            work_order__customer_id=customer_id,
            kind__in=[kind.value for kind in sorted(FOR_CUSTOMERS)],
        )

    def of_kind(self, kind: PaperKind) -> Self:
        """Keep one kind of paper."""
        return self.filter(kind=kind.value)

    def in_state(self, state: PaperState) -> Self:
        """Keep those in one state."""
        return self.filter(state=state.value)

    def due(self, at: datetime) -> Self:
        """Keep those that a worker may take now, the longest waiting first."""
        waiting = self.in_state(PaperState.QUEUED).filter(not_before__lte=at)
        return waiting.order_by("not_before", "pk")

    def abandoned(self, at: datetime) -> Self:
        """Keep those whose worker has let its lease run out."""
        return self.in_state(PaperState.BUILDING).filter(lease_until__lte=at)

    def held_by(self, paper_id: int, owner: str) -> Self:
        """Keep one paper, as long as this worker still holds it."""
        held = self.in_state(PaperState.BUILDING)
        return held.filter(pk=paper_id, owner=owner)

    def latest_first(self) -> Self:
        """Sort by the time of asking, the newest first."""
        return self.order_by("-requested_at", "-pk")


class PaperRequest(models.Model):
    """One paper: what it says, how far it is, and where the finished file lies.

    `content` is what was true when it was asked for, word by word; `digest` names
    content and sheet together. `state` is written by actions alone.
    """

    kind = models.CharField(
        max_length=40, choices=[(k.value, v) for k, v in KIND_LABELS.items()]
    )
    work_order = models.ForeignKey(
        WorkOrder, on_delete=models.PROTECT, related_name="papers"
    )
    digest = models.CharField(max_length=64, unique=True)
    content = models.JSONField()
    state = models.CharField(
        max_length=20,
        choices=[(k.value, v) for k, v in STATE_LABELS.items()],
        default=PaperState.QUEUED.value,
    )
    step = models.PositiveSmallIntegerField(default=0)
    steps = models.PositiveSmallIntegerField(default=STEPS)
    step_words = models.CharField(max_length=80, default="Waiting for its turn")

    attempts = models.PositiveIntegerField(default=0)
    errors = models.PositiveIntegerField(default=0)
    crashes = models.PositiveIntegerField(default=0)
    not_before = models.DateTimeField()
    owner = models.CharField(max_length=32, blank=True)
    lease_until = models.DateTimeField(null=True, blank=True)
    failure_reason = models.TextField(blank=True)

    requested_by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+")
    requested_at = models.DateTimeField()
    ready_at = models.DateTimeField(null=True, blank=True)
    file_name = models.CharField(max_length=100, blank=True)
    sha256 = models.CharField(max_length=64, blank=True)
    page_count = models.PositiveIntegerField(default=0)
    byte_count = models.PositiveIntegerField(default=0)

    objects = models.Manager.from_queryset(PaperRequestQuerySet)()

    class Meta:
        indexes = [
            models.Index(fields=["state", "not_before"], name="paper_queue"),
            models.Index(fields=["work_order", "-requested_at"], name="paper_of_order"),
        ]
        constraints = [
            one_of("kind", PaperKind, name="paper_kind_known"),
            one_of("state", PaperState, name="paper_state_known"),
            models.CheckConstraint(
                condition=models.Q(
                    ~models.Q(owner=""),
                    state=PaperState.BUILDING.value,
                    lease_until__isnull=False,
                )
                | models.Q(
                    ~models.Q(state=PaperState.BUILDING.value),
                    owner="",
                    lease_until__isnull=True,
                ),
                name="paper_held_iff_building",
            ),
            models.CheckConstraint(
                condition=models.Q(
                    ~models.Q(file_name=""),
                    ~models.Q(sha256=""),
                    state=PaperState.READY.value,
                    ready_at__isnull=False,
                    page_count__gte=1,
                )
                | models.Q(
                    ~models.Q(state=PaperState.READY.value),
                    file_name="",
                    ready_at__isnull=True,
                ),
                name="paper_has_file_iff_ready",
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show the kind and where it stands."""
        return f"{self.get_kind_display()}: {self.get_state_display()}"
