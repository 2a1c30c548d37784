"""Templates of common jobs: kept by the owner, laid out on a work order."""

from collections.abc import Iterable
from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import path, reverse
from django.utils import timezone
from django.views.decorators.http import require_POST

from shop.actions import task_templates as actions
from shop.domain.refusals import NotAllowed, NotFound, Refusal
from shop.domain.roles import Act
from shop.domain.tasks import StepDetails
from shop.selectors.task_templates import (
    TaskTemplateRow,
    TemplateStepRow,
    task_template_list,
    task_template_page,
    template_step,
)
from shop.selectors.work_orders import work_order_page
from shop.web.answers import form_page, go_on, take
from shop.web.forms import PickField, ShopForm, posted, prose_field, text_field
from shop.web.tasks import HoursForm
from shop.web.viewer import acting_user, demand_act


class TemplateForm(ShopForm):
    """A job's name, and when to use it."""

    name = text_field("Name of the job", longest=120)
    description = prose_field("When to use it", longest=2000, required=False, rows=3)


class StepForm(HoursForm):
    """One step of a template."""

    operation = text_field("Operation", longest=200)
    after = forms.TypedMultipleChoiceField(
        label="Comes after",
        required=False,
        coerce=int,
        empty_value=[],
        widget=forms.CheckboxSelectMultiple,
    )
    field_order = ("operation",)

    def __init__(
        self, *args: Any, others: Iterable[TemplateStepRow], **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        first = [(str(row.id), row.operation) for row in others]
        after = self.fields["after"]
        if isinstance(after, forms.ChoiceField) and first:
            after.choices = first
        else:
            del self.fields["after"]


class ApplyForm(ShopForm):
    """Which template is laid out."""

    template_id = PickField(label="Job", widget=forms.RadioSelect)

    def __init__(
        self, *args: Any, templates: Iterable[TaskTemplateRow], **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        rows = [
            (row.id, f"{row.name} ({row.steps} tasks)")
            for row in templates
            if not row.is_retired and row.steps
        ]
        self.fields["template_id"] = PickField(
            label="Job", widget=forms.RadioSelect, rows=rows
        )


@take
def listing(request: HttpRequest) -> HttpResponse:
    """List the templates, and write a new one."""
    viewer = demand_act(request, Act.KEEP_TEMPLATES)
    form = TemplateForm(posted(request))
    if form.is_valid():
        made = form.carry_out(
            actions.add_task_template,
            name=form.cleaned_data["name"],
            description=form.cleaned_data["description"],
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if made is not None:
            said = f"{made.name}: now add its steps."
            return go_on(request, said, "shop:task_template", made.pk)
    return form_page(
        request,
        "shop/task_templates/list.html",
        form,
        rows=task_template_list(viewer=viewer),
    )


@take
def page(request: HttpRequest, template_id: int) -> HttpResponse:
    """Show a template with its steps, and add one."""
    viewer = demand_act(request, Act.KEEP_TEMPLATES)
    found = task_template_page(template_id=template_id, viewer=viewer)
    form = StepForm(posted(request), others=found.steps)
    if form.is_valid():
        given = dict(form.cleaned_data)
        made = form.carry_out(
            actions.add_template_step,
            template_id=template_id,
            after=given.pop("after", ()),
            details=StepDetails(**given),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if made is not None:
            said = f"Step added: {made.operation}."
            return go_on(request, said, "shop:task_template", template_id)
    return form_page(request, "shop/task_templates/page.html", form, page=found)


@take
def edit(request: HttpRequest, template_id: int) -> HttpResponse:
    """Give a template another name or description."""
    viewer = demand_act(request, Act.KEEP_TEMPLATES)
    row = task_template_page(template_id=template_id, viewer=viewer).template
    form = TemplateForm(
        posted(request), initial={"name": row.name, "description": row.description}
    )
    if form.is_valid():
        done = form.carry_out(
            actions.edit_task_template,
            template_id=template_id,
            name=form.cleaned_data["name"],
            description=form.cleaned_data["description"],
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            return go_on(request, "Saved.", "shop:task_template", template_id)
    return form_page(
        request,
        "shop/task_templates/form.html",
        form,
        heading=f"Edit {row.name}",
        submit_text="Save",
        cancel_href=reverse("shop:task_template", args=[template_id]),
    )


@require_POST
def retire(request: HttpRequest, template_id: int) -> HttpResponse:
    """Offer a template no longer."""
    try:
        done = actions.retire_task_template(
            template_id=template_id, acting_user=acting_user(request), at=timezone.now()
        )
    except (NotAllowed, NotFound):
        raise
    except Refusal as refusal:
        messages.error(request, refusal.message)
        return redirect("shop:task_templates")
    return go_on(request, f"{done.name} is retired.", "shop:task_templates")


@take
def edit_step(request: HttpRequest, step_id: int) -> HttpResponse:
    """Correct a step of a template."""
    viewer = demand_act(request, Act.KEEP_TEMPLATES)
    row = template_step(step_id=step_id, viewer=viewer)
    steps = task_template_page(template_id=row.template_id, viewer=viewer).steps
    initial = {name: getattr(row, name) for name in StepForm.base_fields}
    others = [step for step in steps if step.id != step_id]
    form = StepForm.editing(request, initial, others=others)
    if form.is_valid():
        done = form.carry_out(
            actions.edit_template_step,
            step_id=step_id,
            changes=form.changes(),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            return go_on(request, "Saved.", "shop:task_template", row.template_id)
    return form_page(
        request,
        "shop/task_templates/step.html",
        form,
        heading="Edit a step",
        submit_text="Save",
        cancel_href=reverse("shop:task_template", args=[row.template_id]),
    )


@require_POST
def remove_step(request: HttpRequest, step_id: int) -> HttpResponse:
    """Take a step out of a template."""
    viewer = demand_act(request, Act.KEEP_TEMPLATES)
    row = template_step(step_id=step_id, viewer=viewer)
    actions.remove_template_step(
        step_id=step_id, acting_user=acting_user(request), at=timezone.now()
    )
    said = f"Taken out: {row.operation}."
    return go_on(request, said, "shop:task_template", row.template_id)


@take
def apply(request: HttpRequest, work_order_id: int) -> HttpResponse:
    """Lay out a template on a work order."""
    viewer = demand_act(request, Act.PLAN_TASKS)
    found = work_order_page(work_order_id=work_order_id, viewer=viewer)
    form = ApplyForm(posted(request), templates=task_template_list(viewer=viewer))
    if form.is_valid():
        made = form.carry_out(
            actions.apply_task_template,
            work_order_id=work_order_id,
            template_id=form.cleaned_data["template_id"],
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if made is not None:
            said = f"{len(made)} tasks laid out."
            return go_on(request, said, "shop:work_order", work_order_id)
    return form_page(
        request,
        "shop/task_templates/form.html",
        form,
        heading=f"Lay out a job on {found.order.label}",
        submit_text="Lay out the tasks",
        cancel_href=reverse("shop:work_order", args=[work_order_id]),
    )


urlpatterns = [
    path("shop/jobs/", listing, name="task_templates"),
    path("shop/jobs/<int:template_id>/", page, name="task_template"),
    path("shop/jobs/<int:template_id>/edit/", edit, name="task_template_edit"),
    path("shop/jobs/<int:template_id>/retire/", retire, name="task_template_retire"),
    path("shop/job-steps/<int:step_id>/", edit_step, name="template_step_edit"),
    path(
        "shop/job-steps/<int:step_id>/remove/",
        remove_step,
        name="template_step_remove",
    ),
    path(
        "work-orders/<int:work_order_id>/tasks/lay-out/",
        apply,
        name="task_template_apply",
    ),
]
