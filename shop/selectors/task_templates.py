"""Templates of common jobs, with their steps."""

from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Count

from shop.domain.labour import LABOUR_KIND_LABELS, LabourKind
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer
from shop.domain.tasks import expected_hours
from shop.models import TaskTemplate, TemplateStep


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskTemplateRow:
    """A template in a list."""

    id: int
    name: str
    description: str
    steps: int
    is_retired: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class TemplateStepRow:
    """One step of a template."""

    id: int
    template_id: int
    position: int
    operation: str
    notes: str
    caution: str
    labour_kind: str
    labour_kind_label: str
    optimistic_hours: Decimal
    likely_hours: Decimal
    pessimistic_hours: Decimal
    expected_hours: Decimal
    after: tuple[int, ...]
    after_operations: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskTemplatePage:
    """A template with its steps."""

    template: TaskTemplateRow
    steps: tuple[TemplateStepRow, ...]


def task_template_list(*, viewer: Viewer) -> tuple[TaskTemplateRow, ...]:
    """Return the templates by name, retired ones too, in two queries."""
    viewer.demand(Act.SEE_SHOP)
    counted = dict(
        TemplateStep.objects.order_by().values_list("template_id").annotate(Count("pk"))
    )
    return tuple(
        _row(template, counted.get(template.pk, 0))
        for template in TaskTemplate.objects.by_name()
    )


def task_template_page(*, template_id: int, viewer: Viewer) -> TaskTemplatePage:
    """Return one template with its steps.

    Raises
    ------
    NotFound
        No such template.
    """
    viewer.demand(Act.SEE_SHOP)
    template = TaskTemplate.objects.filter(pk=template_id).first()
    if template is None:
        raise NotFound("template-not-found", "There is no such template.")
    steps = TemplateStep.objects.of_template(template_id).prefetch_related("after")
    rows = tuple(_step(step) for step in steps)
    return TaskTemplatePage(template=_row(template, len(rows)), steps=rows)


def template_step(*, step_id: int, viewer: Viewer) -> TemplateStepRow:
    """Return one step.

    Raises
    ------
    NotFound
        No such step.
    """
    viewer.demand(Act.SEE_SHOP)
    step = TemplateStep.objects.prefetch_related("after").filter(pk=step_id).first()
    if step is None:
        raise NotFound("step-not-found", "There is no such step.")
    return _step(step)


def _row(template: TaskTemplate, steps: int) -> TaskTemplateRow:
    return TaskTemplateRow(
        id=template.pk,
        name=template.name,
        description=template.description,
        steps=steps,
        is_retired=template.retired_at is not None,
    )


def _step(step: TemplateStep) -> TemplateStepRow:
    mean = expected_hours(
        step.optimistic_hours, step.likely_hours, step.pessimistic_hours
    )
    before = sorted(step.after.all(), key=lambda other: other.position)
    return TemplateStepRow(
        id=step.pk,
        template_id=step.template_id,
        position=step.position,
        operation=step.operation,
        notes=step.notes,
        caution=step.caution,
        labour_kind=step.labour_kind,
        labour_kind_label=LABOUR_KIND_LABELS[LabourKind(step.labour_kind)],
        optimistic_hours=step.optimistic_hours,
        likely_hours=step.likely_hours,
        pessimistic_hours=step.pessimistic_hours,
        expected_hours=round(mean, 2),
        after=tuple(other.pk for other in before),
        after_operations=tuple(other.operation for other in before),
    )
