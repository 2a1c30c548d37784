"""Booking hours on a work order, and striking them out."""

from collections.abc import Iterable
from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse
from django.urls import path, reverse
from django.utils import timezone

from shop.actions import labour as actions
from shop.domain.labour import LABOUR_KIND_LABELS, LabourEntry, hours_and_minutes
from shop.domain.pricing import BILLING_LABELS
from shop.domain.roles import Act, Viewer
from shop.selectors.efforts import work_order_effort
from shop.selectors.labour import labour_line
from shop.selectors.people import technicians
from shop.selectors.tax_rates import tax_rates_in_use
from shop.selectors.work_orders import work_order_page
from shop.web.answers import form_page, go_on, take
from shop.web.forms import (
    DayField,
    FigureField,
    MinutesField,
    PickField,
    ShopForm,
    count_in,
    posted,
    text_field,
)
from shop.web.viewer import acting_user, viewer_of
from shop.web.voids import VoidForm

_FOR_OTHERS = ("technician_id", "hourly_rate")


class LabourForm(ShopForm):
    """What is entered about a stretch of work."""

    description = text_field(
        "What was done", longest=400, help_text="The customer reads this."
    )
    kind = forms.ChoiceField(
        label="Sort of work",
        choices=[(kind.value, label) for kind, label in LABOUR_KIND_LABELS.items()],
    )
    minutes = MinutesField(label="Time")
    task_id = PickField(label="Task", required=False)
    billing = forms.ChoiceField(
        label="Who bears it",
        choices=[(billing.value, label) for billing, label in BILLING_LABELS.items()],
        help_text="Goodwill and warranty stand on paper at no charge.",
    )
    reason = text_field(
        "Why was it not clocked?",
        longest=200,
        help_text="For the shop, not for the customer.",
    )
    done_on = DayField(label="Day")
    technician_id = PickField(label="By")
    hourly_rate = FigureField(
        label="Rate an hour",
        required=False,
        help_text="Empty: the person's own rate, else the shop's. Without tax.",
    )
    tax_rate_id = PickField(label="Tax", required=False)

    def __init__(
        self,
        *args: Any,
        viewer: Viewer,
        currency: str,
        tasks: Iterable[tuple[int, str]],
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.fields["task_id"] = PickField(
            label="Task", required=False, empty="none of them", rows=tasks
        )
        self.fields["tax_rate_id"] = PickField(
            label="Tax",
            required=False,
            empty="the shop's usual rate",
            rows=[(rate.id, rate.label) for rate in tax_rates_in_use()],
        )
        if viewer.may(Act.BOOK_LABOUR_FOR_OTHERS):
            people = technicians(viewer=viewer)
            self.fields["technician_id"] = PickField(
                label="By", rows=[(person.id, person.name) for person in people]
            )
        else:
            for name in _FOR_OTHERS:
                del self.fields[name]
        count_in(self, currency)


@take
def add(request: HttpRequest, work_order_id: int) -> HttpResponse:
    """Book time on a work order."""
    viewer = viewer_of(request)
    found = work_order_page(work_order_id=work_order_id, viewer=viewer)
    _demand_booking(viewer)
    effort = work_order_effort(
        work_order_id=work_order_id, viewer=viewer, at=timezone.now()
    )
    form = LabourForm(
        posted(request),
        initial={
            "done_on": timezone.localdate(),
            "technician_id": found.order.technician_id or viewer.user_id,
        },
        viewer=viewer,
        currency=found.totals.currency,
        tasks=[(task.task_id, task.operation) for task in effort.tasks if task.is_open],
    )
    if form.is_valid():
        line = form.carry_out(
            actions.add_labour,
            work_order_id=work_order_id,
            entry=LabourEntry(**form.cleaned_data),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if line is not None:
            said = f"{hours_and_minutes(line.minutes)} booked: {line.description}"
            return go_on(request, said, "shop:work_order", work_order_id)
    return form_page(
        request,
        "shop/labour/form.html",
        form,
        order=found.order,
        submit_text="Book the hours",
        cancel_href=reverse("shop:work_order", args=[work_order_id]),
    )


@take
def void(request: HttpRequest, line_id: int) -> HttpResponse:
    """Strike out a labour line with a reason; it stays in sight."""
    viewer = viewer_of(request)
    _demand_booking(viewer)
    line = labour_line(line_id=line_id, viewer=viewer)
    form = VoidForm(posted(request))
    if form.is_valid():
        done = form.carry_out(
            actions.void_labour,
            line_id=line_id,
            reason=form.cleaned_data["reason"],
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            said = f"Struck out: {line.description}. It stays on the ticket as void."
            return go_on(request, said, "shop:work_order", line.work_order_id)
    return form_page(
        request,
        "shop/partials/void.html",
        form,
        what=f"{line.time_text}: {line.description}",
        submit_text="Strike it out",
        cancel_href=reverse("shop:work_order", args=[line.work_order_id]),
    )


def _demand_booking(viewer: Viewer) -> None:
    if not viewer.may(Act.BOOK_LABOUR_FOR_OTHERS):
        viewer.demand(Act.BOOK_LABOUR)


urlpatterns = [
    path("work-orders/<int:work_order_id>/labour/add/", add, name="labour_add"),
    path("labour/<int:line_id>/void/", void, name="labour_void"),
]
