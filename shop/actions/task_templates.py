"""Templates of common jobs: kept by the shop, laid out on a work order."""

from collections.abc import Collection, Mapping
from dataclasses import asdict
from datetime import datetime

from django.db import transaction
from django.db.models import Max

from shop.actions._details import details_of, put
from shop.actions._rows import locked, open_work_order
from shop.actions.history import Happening, record
from shop.domain.entries import TextRule, altered, differences
from shop.domain.refusals import IllegalMove, NotFound, Refusal
from shop.domain.roles import Act
from shop.domain.tasks import StepDetails, TaskState, check_no_cycle
from shop.models import (
    Task,
    TaskDependency,
    TaskTemplate,
    TemplateStep,
    User,
)

_NAME = TextRule("name", "The name", 120, required=True)
_DESCRIPTION = TextRule("description", "The description", 2000)


@transaction.atomic
def add_task_template(
    *, name: str, description: str, acting_user: User, at: datetime
) -> TaskTemplate:
    """Write down a job that comes again and again."""
    acting_user.demand(Act.KEEP_TEMPLATES)
    words = _free_name(name)
    made = TaskTemplate.objects.create(
        name=words, description=_DESCRIPTION.clean(description)
    )
    record(
        _told(made, "added", f"Template written: {words}"),
        acting_user=acting_user,
        at=at,
    )
    return made


@transaction.atomic
def edit_task_template(
    *, template_id: int, name: str, description: str, acting_user: User, at: datetime
) -> TaskTemplate:
    """Give a template another name or description."""
    acting_user.demand(Act.KEEP_TEMPLATES)
    template = _template(template_id)
    words = _free_name(name, but=template_id)
    template.name, template.description = words, _DESCRIPTION.clean(description)
    template.save(update_fields=["name", "description"])
    record(
        _told(template, "edited", f"Template corrected: {words}"),
        acting_user=acting_user,
        at=at,
    )
    return template


@transaction.atomic
def retire_task_template(
    *, template_id: int, acting_user: User, at: datetime
) -> TaskTemplate:
    """Offer a template no longer; what was laid out from it stays."""
    acting_user.demand(Act.KEEP_TEMPLATES)
    template = _template(template_id)
    if template.retired_at is not None:
        raise IllegalMove("template-retired", "This template is retired already.")
    template.retired_at = at
    template.save(update_fields=["retired_at"])
    record(
        _told(template, "retired", f"Template retired: {template.name}"),
        acting_user=acting_user,
        at=at,
    )
    return template


@transaction.atomic
def add_template_step(
    *,
    template_id: int,
    details: StepDetails,
    acting_user: User,
    at: datetime,
    after: Collection[int] = (),
) -> TemplateStep:
    """Put a step at the end of a template."""
    acting_user.demand(Act.KEEP_TEMPLATES)
    tidy = details.checked()
    template = _template(template_id)
    steps = TemplateStep.objects.of_template(template.pk)
    last = steps.aggregate(last=Max("position"))["last"] or 0
    step = TemplateStep.objects.create(
        template=template, position=last + 1, **asdict(tidy)
    )
    _put_after(step, set(after))
    record(
        _told(template, "step_added", f"{template.name}: new step {step.operation}"),
        acting_user=acting_user,
        at=at,
    )
    return step


@transaction.atomic
def edit_template_step(
    *, step_id: int, changes: Mapping[str, object], acting_user: User, at: datetime
) -> TemplateStep:
    """Correct a step; the field `after` holds the ids of the steps before it."""
    acting_user.demand(Act.KEEP_TEMPLATES)
    step = _step(step_id)
    words = {name: value for name, value in changes.items() if name != "after"}
    old = details_of(step, StepDetails)
    new = altered(old, words).checked()
    found = differences(old, new)
    put(step, new, found)
    after = changes.get("after")
    if isinstance(after, Collection):
        _put_after(step, {int(pk) for pk in after})
    record(
        _told(
            step.template,
            "step_edited",
            f"{step.template.name}: step corrected, {step.operation}",
            changes=found,
        ),
        acting_user=acting_user,
        at=at,
    )
    return step


@transaction.atomic
def remove_template_step(*, step_id: int, acting_user: User, at: datetime) -> None:
    """Take a step out of a template; what was laid out from it stays."""
    acting_user.demand(Act.KEEP_TEMPLATES)
    step = _step(step_id)
    record(
        _told(
            step.template,
            "step_removed",
            f"{step.template.name}: step taken out, {step.operation}",
        ),
        acting_user=acting_user,
        at=at,
    )
    step.delete()


@transaction.atomic
def apply_task_template(
    *, work_order_id: int, template_id: int, acting_user: User, at: datetime
) -> tuple[Task, ...]:
    """Lay out a template's steps as tasks at the end of a work order's list.

    Raises
    ------
    Refusal
        The template is retired or has no steps.
    """
    acting_user.demand(Act.PLAN_TASKS)
    order = open_work_order(work_order_id)
    template = _template(template_id)
    if template.retired_at is not None:
        raise IllegalMove("template-retired", "This template is retired.")
    steps = list(
        TemplateStep.objects.of_template(template.pk).prefetch_related("after")
    )
    if not steps:
        raise Refusal(
            "template-empty", "This template has no steps yet.", "template_id"
        )
    found = Task.objects.filter(work_order=order).aggregate(last=Max("position"))
    start = found["last"] or 0
    made: dict[int, Task] = {}
    for place, step in enumerate(steps, start=start + 1):
        made[step.pk] = Task.objects.create(
            work_order=order,
            position=place,
            state=TaskState.PLANNED.value,
            state_since=at,
            created_at=at,
            **asdict(details_of(step, StepDetails)),
        )
    TaskDependency.objects.bulk_create(
        TaskDependency(task=made[step.pk], needs=made[before.pk])
        for step in steps
        for before in step.after.all()
    )
    record(
        Happening(
            verb="task_template.applied",
            kind="task_template",
            subject_id=template.pk,
            work_order_id=order.pk,
            summary=f"{len(made)} tasks laid out: {template.name}",
        ),
        acting_user=acting_user,
        at=at,
    )
    return tuple(made.values())


def _template(template_id: int) -> TaskTemplate:
    return locked(
        TaskTemplate.objects.all(), pk=template_id, field="template_id", name="template"
    )


def _step(step_id: int) -> TemplateStep:
    known = TemplateStep.objects.filter(pk=step_id).first()
    if known is None:
        raise NotFound("step-not-found", "There is no such step.", "step_id")
    _template(known.template_id)
    steps = TemplateStep.objects.select_related("template")
    return locked(steps, pk=step_id, field="step_id", name="step")


def _free_name(name: str, *, but: int = 0) -> str:
    words = _NAME.clean(name)
    if TaskTemplate.objects.exclude(pk=but).filter(name__iexact=words).exists():
        raise Refusal("name-taken", f"There is a template “{words}” already.", "name")
    return words


def _put_after(step: TemplateStep, first: set[int]) -> None:
    steps = TemplateStep.objects.of_template(step.template_id)
    names = dict(steps.values_list("pk", "operation"))
    if not first <= names.keys():
        raise NotFound(
            "step-not-in-template",
            "What comes first must be a step of the same template.",
            "after",
        )
    needs = {
        other.pk: {before.pk for before in other.after.all()}
        for other in steps.prefetch_related("after")
    }
    check_no_cycle({**needs, step.pk: first}, names)
    step.after.set(first)


def _told(
    template: TaskTemplate,
    verb: str,
    summary: str,
    *,
    changes: Mapping[str, tuple[str, str]] | None = None,
) -> Happening:
    return Happening(
        verb=f"task_template.{verb}",
        kind="task_template",
        subject_id=template.pk,
        summary=summary,
        changes=changes,
    )
