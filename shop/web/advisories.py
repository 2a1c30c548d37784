"""What was noticed in passing: written down, told, made a task, declined."""

from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse
from django.urls import path, reverse
from django.utils import timezone

from shop.actions import advisories as actions
from shop.domain.advisories import URGENCY_LABELS, AdvisoryDetails
from shop.domain.roles import Act
from shop.domain.tasks import TaskDetails
from shop.models.columns import choices
from shop.selectors.advisories import AdvisoryRow, advisory
from shop.selectors.people import technicians
from shop.selectors.work_orders import work_order_page
from shop.web.answers import form_page, go_on, take
from shop.web.forms import ShopForm, posted, text_field
from shop.web.tasks import TaskForm
from shop.web.viewer import acting_user, demand_act


class AdvisoryForm(ShopForm):
    """Something noticed while at other work."""

    what = text_field("What was noticed", longest=400)
    place = text_field(
        "Where on the bike", longest=120, help_text="For example: rear brake, left side"
    )
    urgency = forms.ChoiceField(
        label="How urgent", choices=choices(URGENCY_LABELS), widget=forms.RadioSelect
    )


class ToldForm(ShopForm):
    """How the customer was told."""

    how = text_field(
        "How was the customer told?",
        longest=120,
        help_text="By phone, by mail, at the counter; and who was told.",
    )


class DeclineForm(ShopForm):
    """Why it is left as it is."""

    reason = text_field("Why is it left as it is?", longest=200)


@take
def add(request: HttpRequest, work_order_id: int) -> HttpResponse:
    """Write down something noticed on a bike."""
    viewer = demand_act(request, Act.EDIT_WORK_ORDER)
    found = work_order_page(work_order_id=work_order_id, viewer=viewer)
    form = AdvisoryForm(posted(request))
    if form.is_valid():
        made = form.carry_out(
            actions.note_advisory,
            work_order_id=work_order_id,
            details=AdvisoryDetails(**form.cleaned_data),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if made is not None:
            return go_on(
                request, f"Noted: {made.what}.", "shop:work_order", work_order_id
            )
    return _page(
        request, form, work_order_id, heading=f"Noticed on {found.order.label}"
    )


@take
def tell(request: HttpRequest, advisory_id: int) -> HttpResponse:
    """Write down that the customer has been told."""
    viewer = demand_act(request, Act.EDIT_WORK_ORDER)
    row = advisory(advisory_id=advisory_id, viewer=viewer)
    form = ToldForm(posted(request))
    if form.is_valid():
        done = form.carry_out(
            actions.tell_advisory,
            advisory_id=advisory_id,
            how=form.cleaned_data["how"],
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            said = "Written down that the customer has been told."
            return go_on(request, said, "shop:work_order", row.work_order_id)
    return _page(request, form, row.work_order_id, heading="Customer told", row=row)


@take
def make_task(request: HttpRequest, advisory_id: int) -> HttpResponse:
    """Plan a task that sees to what was noticed."""
    viewer = demand_act(request, Act.PLAN_TASKS)
    row = advisory(advisory_id=advisory_id, viewer=viewer)
    form = TaskForm(
        posted(request),
        initial={"operation": f"{row.place}: {row.what}"[:200]},
        people=[(person.id, person.name) for person in technicians(viewer=viewer)],
        others=(),
    )
    if form.is_valid():
        made = form.carry_out(
            actions.make_advisory_a_task,
            advisory_id=advisory_id,
            details=TaskDetails(**form.cleaned_data),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if made is not None:
            said = f"Planned: {made.operation}."
            return go_on(request, said, "shop:work_order", row.work_order_id)
    return form_page(
        request,
        "shop/tasks/form.html",
        form,
        heading="Make it a task",
        submit_text="Plan the task",
        cancel_href=reverse("shop:work_order", args=[row.work_order_id]),
    )


@take
def decline(request: HttpRequest, advisory_id: int) -> HttpResponse:
    """Write down that it is left as it is."""
    viewer = demand_act(request, Act.EDIT_WORK_ORDER)
    row = advisory(advisory_id=advisory_id, viewer=viewer)
    form = DeclineForm(posted(request))
    if form.is_valid():
        done = form.carry_out(
            actions.decline_advisory,
            advisory_id=advisory_id,
            reason=form.cleaned_data["reason"],
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            said = "Left as it is, at the customer's wish."
            return go_on(request, said, "shop:work_order", row.work_order_id)
    return _page(request, form, row.work_order_id, heading="Leave as it is", row=row)


def _page(
    request: HttpRequest,
    form: ShopForm,
    work_order_id: int,
    *,
    heading: str,
    row: AdvisoryRow | None = None,
) -> HttpResponse:
    context: dict[str, Any] = {"heading": heading, "row": row, "submit_text": "Save"}
    to = reverse("shop:work_order", args=[work_order_id])
    return form_page(
        request, "shop/advisories/form.html", form, cancel_href=to, **context
    )


urlpatterns = [
    path("work-orders/<int:work_order_id>/advisories/add/", add, name="advisory_add"),
    path("advisories/<int:advisory_id>/told/", tell, name="advisory_tell"),
    path("advisories/<int:advisory_id>/task/", make_task, name="advisory_task"),
    path("advisories/<int:advisory_id>/decline/", decline, name="advisory_decline"),
]
