"""Tasks of a work order: planned, corrected, put in order, moved along."""

from collections.abc import Iterable
from typing import Any

from django import forms
from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import path, reverse
from django.utils import timezone
from django.views.decorators.http import require_POST

from shop.actions import tasks as actions
from shop.domain.labour import LABOUR_KIND_LABELS
from shop.domain.refusals import NotAllowed, NotFound, Refusal
from shop.domain.roles import Act, Viewer
from shop.domain.tasks import (
    TASK_EVENT_DONE,
    TASK_EVENT_LABELS,
    TASK_NEEDS_REASON,
    TASK_STATE_LABELS,
    TaskDetails,
    TaskEvent,
    TaskState,
)
from shop.models.columns import choices
from shop.selectors.people import technicians
from shop.selectors.tasks import TaskRow, task, task_rows
from shop.selectors.work_orders import work_order_page
from shop.web.answers import form_page, go_on, take
from shop.web.forms import (
    FigureField,
    PickField,
    ShopForm,
    posted,
    prose_field,
    text_field,
)
from shop.web.viewer import acting_user, demand_act


class HoursForm(ShopForm):
    """Three guesses of the hours, and what they are booked as."""

    optimistic_hours = FigureField(
        label="If all goes well", unit="h", min_value=0, max_digits=7, decimal_places=2
    )
    likely_hours = FigureField(
        label="Most likely", unit="h", min_value=0, max_digits=7, decimal_places=2
    )
    pessimistic_hours = FigureField(
        label="If it fights back", unit="h", min_value=0, max_digits=7, decimal_places=2
    )
    labour_kind = forms.ChoiceField(
        label="Booked as", choices=choices(LABOUR_KIND_LABELS)
    )
    notes = prose_field("Notes", longest=4000, required=False, rows=3)
    caution = prose_field(
        "Caution",
        longest=2000,
        required=False,
        rows=2,
        help_text="What can hurt somebody here, and what prevents it.",
    )


class TaskForm(HoursForm):
    """One task of a work order."""

    operation = text_field("Operation", longest=200)
    technician_id = PickField(label="Technician", required=False, empty="nobody yet")
    depends_on = forms.TypedMultipleChoiceField(
        label="Comes after",
        required=False,
        coerce=int,
        empty_value=[],
        widget=forms.CheckboxSelectMultiple,
        help_text="It cannot start before these are done or dropped.",
    )
    field_order = ("operation",)

    def __init__(
        self,
        *args: Any,
        people: Iterable[tuple[int, str]],
        others: Iterable[TaskRow],
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.fields["technician_id"] = PickField(
            label="Technician", required=False, empty="nobody yet", rows=people
        )
        first = [(str(row.id), row.operation) for row in others]
        depends_on = self.fields["depends_on"]
        if isinstance(depends_on, forms.ChoiceField) and first:
            depends_on.choices = first
        else:
            del self.fields["depends_on"]


class TaskMoveForm(ShopForm):
    """Why a task is dropped or taken up again."""

    seen_state = forms.ChoiceField(
        choices=choices(TASK_STATE_LABELS), widget=forms.HiddenInput, required=False
    )
    reason = text_field("Why?", longest=200)

    def __init__(self, *args: Any, asks: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if not asks:
            del self.fields["reason"]


@take
def add(request: HttpRequest, work_order_id: int) -> HttpResponse:
    """Plan a task on a work order."""
    viewer = demand_act(request, Act.PLAN_TASKS)
    found = work_order_page(work_order_id=work_order_id, viewer=viewer)
    form = TaskForm(posted(request), people=_people(viewer), others=found.tasks)
    if form.is_valid():
        given = dict(form.cleaned_data)
        made = form.carry_out(
            actions.plan_task,
            work_order_id=work_order_id,
            depends_on=given.pop("depends_on", ()),
            details=TaskDetails(**given),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if made is not None:
            said = f"Planned: {made.operation}."
            return go_on(request, said, "shop:work_order", work_order_id)
    return _task_page(request, form, found.order.label, work_order_id, "Plan a task")


@take
def edit(request: HttpRequest, task_id: int) -> HttpResponse:
    """Correct a task, its hours, who does it, and what comes before."""
    viewer = demand_act(request, Act.PLAN_TASKS)
    row = task(task_id=task_id, viewer=viewer)
    found = work_order_page(work_order_id=row.work_order_id, viewer=viewer)
    initial = {name: getattr(row, name) for name in TaskForm.base_fields}
    others = [other for other in found.tasks if other.id != task_id]
    form = TaskForm.editing(request, initial, people=_people(viewer), others=others)
    if form.is_valid():
        done = form.carry_out(
            actions.edit_task,
            task_id=task_id,
            changes=form.changes(),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            said = f"Saved: {done.operation}."
            return go_on(request, said, "shop:work_order", row.work_order_id)
    return _task_page(
        request, form, found.order.label, row.work_order_id, "Edit a task"
    )


@take
def move(request: HttpRequest, task_id: int, task_event: str) -> HttpResponse:
    """Start, lay aside, finish or drop a task, or take it up again."""
    if task_event not in set(TaskEvent):
        raise Http404
    chosen = TaskEvent(task_event)
    viewer = demand_act(request, Act.WORK_ON_BENCH)
    row = task(task_id=task_id, viewer=viewer)
    form = TaskMoveForm(
        posted(request),
        initial={"seen_state": row.state},
        asks=chosen in TASK_NEEDS_REASON,
    )
    if form.is_valid():
        seen = form.cleaned_data["seen_state"]
        done = form.carry_out(
            actions.move_task,
            task_id=task_id,
            event=chosen,
            reason=form.cleaned_data.get("reason", ""),
            seen_state=TaskState(seen) if seen else None,
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            said = f"{row.operation}: {TASK_EVENT_DONE[chosen]}."
            return go_on(request, said, "shop:work_order", row.work_order_id)
    return form_page(
        request,
        "shop/tasks/move.html",
        form,
        task=row,
        heading=TASK_EVENT_LABELS[chosen],
        submit_text=TASK_EVENT_LABELS[chosen],
        cancel_href=reverse("shop:work_order", args=[row.work_order_id]),
    )


@require_POST
def place(request: HttpRequest, task_id: int) -> HttpResponse:
    """Move a task to another place in its list."""
    viewer = demand_act(request, Act.PLAN_TASKS)
    row = task(task_id=task_id, viewer=viewer)
    raw = request.POST.get("position", "")
    rows = task_rows(work_order_id=row.work_order_id, viewer=viewer)
    is_place = raw.isascii() and raw.isdecimal() and 1 <= len(raw) <= len("9999")
    try:
        actions.place_task(
            task_id=task_id,
            position=min(int(raw), len(rows)) if is_place else row.position,
            acting_user=acting_user(request),
            at=timezone.now(),
        )
    except (NotAllowed, NotFound):
        raise
    except Refusal as refusal:
        messages.error(request, refusal.message)
    to = reverse("shop:work_order", args=[row.work_order_id])
    return redirect(f"{to}#tasks")


def _people(viewer: Viewer) -> list[tuple[int, str]]:
    return [(person.id, person.name) for person in technicians(viewer=viewer)]


def _task_page(
    request: HttpRequest, form: TaskForm, label: str, work_order_id: int, heading: str
) -> HttpResponse:
    return form_page(
        request,
        "shop/tasks/form.html",
        form,
        label=label,
        heading=heading,
        submit_text="Save the task",
        cancel_href=reverse("shop:work_order", args=[work_order_id]),
    )


urlpatterns = [
    path("work-orders/<int:work_order_id>/tasks/add/", add, name="task_add"),
    path("tasks/<int:task_id>/edit/", edit, name="task_edit"),
    path("tasks/<int:task_id>/place/", place, name="task_place"),
    path("tasks/<int:task_id>/move/<str:task_event>/", move, name="task_move"),
]
