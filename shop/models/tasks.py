"""Tasks of a work order, and which of them must come first."""

from django.db import models
from typing_extensions import override

from shop.domain.labour import LABOUR_KIND_LABELS, LabourKind
from shop.domain.tasks import TASK_OPEN, TASK_STATE_LABELS, TaskState
from shop.models.columns import choices, one_of, row_id
from shop.models.people import User
from shop.models.work_orders import WorkOrder

_OPEN = [state.value for state in sorted(TASK_OPEN)]


class TaskQuerySet(models.QuerySet["Task"]):
    """Tasks, narrowed."""

    def of_work_order(self, work_order_id: int) -> "TaskQuerySet":
        """Keep those of one work order, in the order of the work."""
        return self.filter(work_order_id=row_id(work_order_id)).in_order()

    def of_technician(self, technician_id: int) -> "TaskQuerySet":
        """Keep those that one technician is to do."""
        return self.filter(technician_id=row_id(technician_id))

    def still_open(self) -> "TaskQuerySet":
        """Keep those that are planned or under way."""
        return self.filter(state__in=_OPEN)

    def in_state(self, *states: TaskState) -> "TaskQuerySet":
        """Keep those in one of the states."""
        return self.filter(state__in=[state.value for state in states])

    def in_order(self) -> "TaskQuerySet":
        """Sort by work order and place in it."""
        return self.order_by("work_order_id", "position", "pk")


class Task(models.Model):
    """One operation on a work order; `state` is written by actions alone."""

    work_order = models.ForeignKey(
        WorkOrder, on_delete=models.PROTECT, related_name="tasks"
    )
    operation = models.CharField(max_length=200)
    notes = models.TextField(blank=True)
    caution = models.TextField(blank=True, help_text="What can hurt somebody here.")
    position = models.PositiveIntegerField(help_text="Its place in the list, from 1.")
    technician = models.ForeignKey(
        User, on_delete=models.PROTECT, null=True, blank=True, related_name="tasks"
    )
    labour_kind = models.CharField(
        max_length=20,
        choices=choices(LABOUR_KIND_LABELS),
        default=LabourKind.REPAIR.value,
    )
    state = models.CharField(
        max_length=20,
        choices=choices(TASK_STATE_LABELS),
        default=TaskState.PLANNED.value,
    )
    state_since = models.DateTimeField()
    optimistic_hours = models.DecimalField(max_digits=7, decimal_places=2)
    likely_hours = models.DecimalField(max_digits=7, decimal_places=2)
    pessimistic_hours = models.DecimalField(max_digits=7, decimal_places=2)
    depends_on: "models.ManyToManyField[Task, TaskDependency]" = models.ManyToManyField(
        "self",
        through="TaskDependency",
        through_fields=("task", "needs"),
        symmetrical=False,
        related_name="needed_by",
        blank=True,
    )
    created_at = models.DateTimeField()

    objects = models.Manager.from_queryset(TaskQuerySet)()

    class Meta:
        indexes = [
            models.Index(fields=["work_order", "position"], name="task_in_order"),
            models.Index(fields=["state", "technician"], name="task_on_board"),
        ]
        constraints = [
            one_of("state", TaskState, name="task_state_known"),
            one_of("labour_kind", LabourKind, name="task_labour_kind_known"),
            models.CheckConstraint(
                condition=~models.Q(operation=""), name="task_has_operation"
            ),
            models.CheckConstraint(
                condition=models.Q(
                    optimistic_hours__gte=0,
                    likely_hours__gte=models.F("optimistic_hours"),
                    pessimistic_hours__gte=models.F("likely_hours"),
                    pessimistic_hours__gt=0,
                ),
                name="task_hours_in_order",
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show the operation."""
        return self.operation


class TaskDependencyQuerySet(models.QuerySet["TaskDependency"]):
    """Dependencies, narrowed."""

    def of_work_order(self, work_order_id: int) -> "TaskDependencyQuerySet":
        """Keep those between the tasks of one work order."""
        return self.filter(task__work_order_id=row_id(work_order_id)).order_by("pk")


class TaskDependency(models.Model):
    """`needs` must be settled before `task` can start."""

    task = models.ForeignKey(Task, on_delete=models.CASCADE, related_name="needs_rows")
    needs = models.ForeignKey(
        Task, on_delete=models.CASCADE, related_name="needed_by_rows"
    )

    objects = models.Manager.from_queryset(TaskDependencyQuerySet)()

    class Meta:
        verbose_name_plural = "task dependencies"
        constraints = [
            models.UniqueConstraint(
                fields=["task", "needs"], name="task_dependency_once"
            ),
            models.CheckConstraint(
                condition=~models.Q(task=models.F("needs")),
                name="task_needs_another",
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show both ids."""
        return f"{self.task_id} needs {self.needs_id}"
