"""Templates: the tasks of a common job, in their order, as this shop does it."""

from django.db import models
from typing_extensions import override

from shop.domain.labour import LABOUR_KIND_LABELS, LabourKind
from shop.models.columns import choices, one_of, row_id


class TaskTemplateQuerySet(models.QuerySet["TaskTemplate"]):
    """Templates, narrowed."""

    def in_use(self) -> "TaskTemplateQuerySet":
        """Keep those that are not retired."""
        return self.filter(retired_at__isnull=True)

    def by_name(self) -> "TaskTemplateQuerySet":
        """Sort by name."""
        return self.order_by("name", "pk")


class TaskTemplate(models.Model):
    """A job that comes again and again."""

    name = models.CharField(max_length=120, unique=True)
    description = models.TextField(blank=True)
    retired_at = models.DateTimeField(null=True, blank=True)

    objects = models.Manager.from_queryset(TaskTemplateQuerySet)()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(name=""), name="task_template_has_name"
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show the name."""
        return self.name


class TemplateStepQuerySet(models.QuerySet["TemplateStep"]):
    """Steps, narrowed."""

    def of_template(self, template_id: int) -> "TemplateStepQuerySet":
        """Keep those of one template, in the order of the work."""
        return self.filter(template_id=row_id(template_id)).order_by("position", "pk")


class TemplateStep(models.Model):
    """One task of a template; `after` are steps of the same template."""

    template = models.ForeignKey(
        TaskTemplate, on_delete=models.CASCADE, related_name="steps"
    )
    position = models.PositiveIntegerField()
    operation = models.CharField(max_length=200)
    notes = models.TextField(blank=True)
    caution = models.TextField(blank=True)
    labour_kind = models.CharField(
        max_length=20,
        choices=choices(LABOUR_KIND_LABELS),
        default=LabourKind.RESTORATION.value,
    )
    optimistic_hours = models.DecimalField(max_digits=7, decimal_places=2)
    likely_hours = models.DecimalField(max_digits=7, decimal_places=2)
    pessimistic_hours = models.DecimalField(max_digits=7, decimal_places=2)
    after: "models.ManyToManyField[TemplateStep, models.Model]" = (
        models.ManyToManyField("self", symmetrical=False, related_name="before")
    )

    objects = models.Manager.from_queryset(TemplateStepQuerySet)()

    class Meta:
        constraints = [
            one_of("labour_kind", LabourKind, name="template_step_kind_known"),
            models.CheckConstraint(
                condition=~models.Q(operation=""), name="template_step_has_operation"
            ),
            models.CheckConstraint(
                condition=models.Q(
                    optimistic_hours__gte=0,
                    likely_hours__gte=models.F("optimistic_hours"),
                    pessimistic_hours__gte=models.F("likely_hours"),
                    pessimistic_hours__gt=0,
                ),
                name="template_step_hours_in_order",
            ),
        ]

    @override
    def __str__(self) -> str:
        """Show the operation."""
        return self.operation
