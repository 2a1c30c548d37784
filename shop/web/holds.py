"""What a bike or a task waits for: put down and released."""

from collections.abc import Iterable
from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse
from django.urls import path, reverse
from django.utils import timezone

from shop.actions import holds as actions
from shop.domain.holds import HOLD_LABELS, RELEASE_ACTS, HoldDetails, HoldReason
from shop.domain.lifecycle import State
from shop.domain.roles import Act
from shop.models.columns import choices
from shop.selectors.holds import hold
from shop.selectors.tasks import TaskRow
from shop.selectors.work_orders import work_order_page
from shop.web.answers import form_page, go_on, take
from shop.web.forms import DayField, PickField, ShopForm, posted, text_field
from shop.web.viewer import acting_user, demand_act

_HELD_STATES = frozenset({State.ON_THE_BENCH, State.WAITING})


class HoldForm(ShopForm):
    """What is waited for."""

    kind = forms.ChoiceField(
        label="Waiting for", choices=choices(HOLD_LABELS), widget=forms.RadioSelect
    )
    detail = text_field(
        "What exactly", longest=200, help_text="A colleague must understand it."
    )
    expected_on = DayField(label="Expected on", required=False)
    task_id = PickField(label="What is held", required=False)

    def __init__(
        self, *args: Any, tasks: Iterable[TaskRow], whole: bool, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        rows = [(row.id, row.operation) for row in tasks if row.is_open]
        self.fields["task_id"] = PickField(
            label="What is held",
            required=not whole,
            empty="the whole bike: all work stops" if whole else "",
            rows=rows,
        )


class ReleaseForm(ShopForm):
    """What came, in a few words."""

    note = text_field("Note", longest=200, required=False)


@take
def add(request: HttpRequest, work_order_id: int) -> HttpResponse:
    """Put a bike, or one of its tasks, on hold."""
    viewer = demand_act(request, Act.KEEP_HOLDS)
    found = work_order_page(work_order_id=work_order_id, viewer=viewer)
    form = HoldForm(
        posted(request),
        tasks=found.tasks,
        whole=State(found.order.state) in _HELD_STATES,
    )
    if form.is_valid():
        made = form.carry_out(
            actions.place_hold,
            work_order_id=work_order_id,
            details=HoldDetails(**form.cleaned_data),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if made is not None:
            said = f"On hold: {made.detail}."
            return go_on(request, said, "shop:work_order", work_order_id)
    return form_page(
        request,
        "shop/holds/form.html",
        form,
        label=found.order.label,
        heading="Put on hold",
        submit_text="Put on hold",
        cancel_href=reverse("shop:work_order", args=[work_order_id]),
    )


@take
def release(request: HttpRequest, hold_id: int) -> HttpResponse:
    """Say that what was waited for has come."""
    viewer = demand_act(request, Act.KEEP_HOLDS)
    row = hold(hold_id=hold_id, viewer=viewer)
    demand_act(request, RELEASE_ACTS[HoldReason(row.kind)])
    form = ReleaseForm(posted(request))
    if form.is_valid():
        done = form.carry_out(
            actions.release_hold,
            hold_id=hold_id,
            note=form.cleaned_data["note"],
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            said = f"Released: {row.detail}."
            return go_on(request, said, "shop:work_order", row.work_order_id)
    return form_page(
        request,
        "shop/holds/form.html",
        form,
        row=row,
        heading="Release the hold",
        submit_text="Release",
        cancel_href=reverse("shop:work_order", args=[row.work_order_id]),
    )


urlpatterns = [
    path("work-orders/<int:work_order_id>/holds/add/", add, name="hold_add"),
    path("holds/<int:hold_id>/release/", release, name="hold_release"),
]
