"""Plans of the whole shop, and what each says of every work order."""

from datetime import datetime
from typing import Self

from django.db import models
from typing_extensions import override

from shop.domain.plans import DRAWS, PLAN_STATE_LABELS, UNDER_WAY, PlanState
from shop.models.columns import choices, one_of, row_id
from shop.models.people import User
from shop.models.work_orders import WorkOrder

_UNDER_WAY = [state.value for state in sorted(UNDER_WAY)]


class PlanQuerySet(models.QuerySet["Plan"]):
    """Plans, narrowed."""

    def in_state(self, *states: PlanState) -> Self:
        """Keep those in one of the states."""
        return self.filter(state__in=[state.value for state in states])

    def under_way(self) -> Self:
        """Keep those that wait or are being worked out."""
        return self.filter(state__in=_UNDER_WAY)

    def due(self, at: datetime) -> Self:
        """Keep those that a worker may take now, the longest waiting first."""
        waiting = self.in_state(PlanState.QUEUED).filter(not_before__lte=at)
        return waiting.order_by("not_before", "pk")

    def abandoned(self, at: datetime) -> Self:
        """Keep those whose worker has let its lease run out."""
        return self.in_state(PlanState.WORKING).filter(lease_until__lte=at)

    def held_by(self, plan_id: int, owner: str) -> Self:
        """Keep one plan, as long as this worker still holds it."""
        return self.in_state(PlanState.WORKING).filter(pk=plan_id, owner=owner)

    def latest_first(self) -> Self:
        """Sort by the time of asking, the newest first."""
        return self.order_by("-pk")

    def superseded(self) -> Self:
        """Keep what nobody looks at any more: all that stood before the last one."""
        last = self.in_state(PlanState.READY).order_by("-pk").values("pk")[:1]
        old = self.in_state(PlanState.READY, PlanState.FAILED)
        return old.filter(pk__lt=models.Subquery(last))


class Plan(models.Model):
    """One plan: what was asked, from which facts, with which chance, and the weeks.

    `last_history_id` is the last act of the history that the facts hold: whatever
    follows it may put the plan out of date. `state` is written by actions alone.
    """

    state = models.CharField(
        max_length=20,
        choices=choices(PLAN_STATE_LABELS),
        default=PlanState.QUEUED.value,
    )
    requested_by = models.ForeignKey(
        User, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    requested_at = models.DateTimeField()
    seed = models.PositiveBigIntegerField()
    draws = models.PositiveIntegerField(default=DRAWS)

    not_before = models.DateTimeField()
    owner = models.CharField(max_length=32, blank=True)
    lease_until = models.DateTimeField(null=True, blank=True)
    tries = models.PositiveSmallIntegerField(default=0)
    failure_reason = models.TextField(blank=True)

    computed_at = models.DateTimeField(null=True, blank=True)
    first_day = models.DateField(null=True, blank=True)
    last_history_id = models.BigIntegerField(default=0)
    weeks = models.JSONField(default=list, blank=True)

    objects = models.Manager.from_queryset(PlanQuerySet)()

    class Meta:
        indexes = [
            models.Index(fields=["state", "not_before"], name="plan_queue"),
        ]
        constraints = [
            one_of("state", PlanState, name="plan_state_known"),
            models.UniqueConstraint(
                fields=["state"],
                condition=models.Q(state=PlanState.QUEUED.value),
                name="plan_one_waiting",
            ),
            models.CheckConstraint(
                condition=models.Q(
                    ~models.Q(owner=""),
                    state=PlanState.WORKING.value,
                    lease_until__isnull=False,
                )
                | models.Q(
                    ~models.Q(state=PlanState.WORKING.value),
                    owner="",
                    lease_until__isnull=True,
                ),
                name="plan_held_iff_working",
            ),
            models.CheckConstraint(
                condition=models.Q(
                    state=PlanState.READY.value,
                    computed_at__isnull=False,
                    first_day__isnull=False,
                )
                | models.Q(
                    ~models.Q(state=PlanState.READY.value), computed_at__isnull=True
                ),
                name="plan_computed_iff_ready",
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show when it was asked for and where it stands."""
        return f"{self.requested_at:%Y-%m-%d %H:%M}: {self.get_state_display()}"


class PlanLineQuerySet(models.QuerySet["PlanLine"]):
    """What plans say of work orders, narrowed."""

    def of_work_order(self, work_order_id: int) -> "PlanLineQuerySet":
        """Keep what is said of one work order."""
        return self.filter(work_order_id=row_id(work_order_id))

    def of_plan(self, plan_id: int) -> "PlanLineQuerySet":
        """Keep the lines of one plan, in the order of the queue."""
        return self.filter(plan_id=plan_id).order_by("position")


class PlanLine(models.Model):
    """The promise of one work order in one plan; no day means none was found."""

    plan = models.ForeignKey(Plan, on_delete=models.CASCADE, related_name="lines")
    work_order = models.ForeignKey(
        WorkOrder, on_delete=models.PROTECT, related_name="plan_lines"
    )
    position = models.PositiveIntegerField(help_text="Its place in the queue, from 1.")
    even_on = models.DateField(null=True, blank=True)
    likely_on = models.DateField(null=True, blank=True)
    nearly_certain_on = models.DateField(null=True, blank=True)
    promised_on = models.DateField(null=True, blank=True)
    kept_percent = models.PositiveSmallIntegerField(null=True, blank=True)
    tasks = models.JSONField(default=list, blank=True)
    path = models.JSONField(default=list, blank=True)
    waits = models.JSONField(default=list, blank=True)

    objects = models.Manager.from_queryset(PlanLineQuerySet)()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["plan", "work_order"], name="plan_line_once"
            ),
            models.CheckConstraint(
                condition=models.Q(kept_percent__isnull=True)
                | models.Q(kept_percent__lte=100),
                name="plan_line_percent",
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show the work order and the even day."""
        return f"{self.work_order_id}: {self.even_on}"
