"""Clocking on, over and off; who is clocked on; ends written by hand."""

from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path, reverse
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from shop.actions import clocks as actions
from shop.domain.clocks import ClockEntry
from shop.domain.labour import LABOUR_KIND_LABELS, hours_and_minutes
from shop.domain.pricing import BILLING_LABELS
from shop.domain.refusals import NotAllowed, NotFound, Refusal
from shop.domain.roles import Act
from shop.selectors.clocks import ClockRow, clock, running_clock, running_clocks
from shop.selectors.days import task_offer
from shop.web.answers import form_page, go_on, take
from shop.web.forms import ShopForm, posted, text_field
from shop.web.viewer import acting_user, demand_act, viewer_of

_LOCAL = "%Y-%m-%dT%H:%M"
_LATEST = "What stands here is the latest it can have been: write when it really was."


class ClockForm(ShopForm):
    """What is said when clocking on."""

    kind = forms.ChoiceField(
        label="Sort of work",
        choices=[(kind.value, label) for kind, label in LABOUR_KIND_LABELS.items()],
    )
    billing = forms.ChoiceField(
        label="Who bears it",
        choices=[(billing.value, label) for billing, label in BILLING_LABELS.items()],
        help_text="Goodwill and warranty stand on paper at no charge.",
    )
    note = text_field(
        "What you are doing",
        longest=400,
        required=False,
        help_text="Empty: the task's own words. The customer reads this.",
    )


class CorrectionForm(ShopForm):
    """When the work really ended, and why the clock did not know."""

    stopped_at = forms.DateTimeField(
        label="The work ended",
        input_formats=[_LOCAL, "%Y-%m-%d %H:%M"],
        widget=forms.DateTimeInput(attrs={"type": "datetime-local"}, format=_LOCAL),
        error_messages={"invalid": "Write day and time as 2026-11-25 17:30."},
    )
    reason = text_field(
        "Why was it not stopped then?",
        longest=200,
        help_text="It stays beside the hours, for the shop.",
    )


@require_safe
def listing(request: HttpRequest) -> HttpResponse:
    """Show who is clocked on, with the forgotten clocks first."""
    viewer = demand_act(request, Act.SEE_SHOP)
    rows = running_clocks(viewer=viewer, at=timezone.now())
    return render(
        request,
        "shop/clocks/list.html",
        {
            "forgotten": [row for row in rows if row.is_forgotten],
            "rows": [row for row in rows if not row.is_forgotten],
            "may_stop_any": viewer.may(Act.BOOK_LABOUR_FOR_OTHERS),
            "may_clock": viewer.may(Act.BOOK_LABOUR),
        },
    )


@take
def on(request: HttpRequest, task_id: int) -> HttpResponse:
    """Clock on to a task; where another clock runs, offer to change over."""
    return _begin(request, task_id, actions.clock_on)


@take
def over(request: HttpRequest, task_id: int) -> HttpResponse:
    """Stop the running clock and clock on to this task, in one step."""
    return _begin(request, task_id, actions.change_over)


@require_POST
def off(request: HttpRequest, clock_id: int) -> HttpResponse:
    """Clock off; a clock that has run too long goes to its correction."""
    try:
        actions.clock_off(
            clock_id=clock_id, acting_user=acting_user(request), at=timezone.now()
        )
    except (NotAllowed, NotFound):
        raise
    except Refusal as refusal:
        messages.error(request, refusal.message)
        if refusal.code == "clock-forgotten":
            return redirect("shop:clock_correct", clock_id)
        return redirect(_after(request))
    done = clock(clock_id=clock_id, viewer=viewer_of(request), at=timezone.now())
    return go_on(request, _told(done), _after(request))


@take
def correct(request: HttpRequest, clock_id: int) -> HttpResponse:
    """Write when the work of a running clock really ended, with the reason."""
    viewer = viewer_of(request)
    found = clock(clock_id=clock_id, viewer=viewer, at=timezone.now())
    viewer.demand(
        Act.BOOK_LABOUR
        if found.technician_id == viewer.user_id
        else Act.BOOK_LABOUR_FOR_OTHERS
    )
    offered = found.likely_stop or timezone.now()
    form = CorrectionForm(
        posted(request), initial={"stopped_at": timezone.localtime(offered)}
    )
    if found.is_forgotten:
        form.fields["stopped_at"].help_text = _LATEST
    if form.is_valid():
        done = form.carry_out(
            actions.correct_clock,
            clock_id=clock_id,
            stopped_at=form.cleaned_data["stopped_at"],
            reason=form.cleaned_data["reason"],
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            row = clock(clock_id=clock_id, viewer=viewer, at=timezone.now())
            return go_on(request, _told(row), _after(request))
    return form_page(
        request,
        "shop/clocks/correct.html",
        form,
        clock=found,
        submit_text="Book it so",
        cancel_href=reverse(_after(request)),
    )


def _begin(request: HttpRequest, task_id: int, action: Any) -> HttpResponse:
    viewer = demand_act(request, Act.BOOK_LABOUR)
    offer = task_offer(task_id=task_id, viewer=viewer)
    form = ClockForm(
        posted(request),
        initial={"kind": offer.labour_kind, "billing": "billable"},
    )
    if form.is_valid():
        done = form.carry_out(
            action,
            task_id=task_id,
            entry=ClockEntry(**form.cleaned_data),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            said = f"Clocked on: {offer.operation}"
            return go_on(request, said, "shop:work_order", offer.work_order_id)
    running = running_clock(viewer=viewer, at=timezone.now())
    return form_page(
        request,
        "shop/clocks/on.html",
        form,
        offer=offer,
        running=running,
        submit_to=reverse(
            "shop:clock_change_over" if running else "shop:clock_on", args=[task_id]
        ),
        submit_text=(
            f"Stop “{running.operation}” and clock on" if running else "Clock on"
        ),
        cancel_href=reverse("shop:work_order", args=[offer.work_order_id]),
    )


def _after(request: HttpRequest) -> str:
    """Return where to go on: their own day, or who else is clocked on."""
    may_clock = viewer_of(request).may(Act.BOOK_LABOUR)
    return "shop:my_day" if may_clock else "shop:clocks"


def _told(done: ClockRow) -> str:
    if not done.booked_minutes:
        return f"Clocked off within a minute: nothing booked for {done.operation}."
    return f"{hours_and_minutes(done.booked_minutes)} booked: {done.operation}"


urlpatterns = [
    path("clocks/", listing, name="clocks"),
    path("tasks/<int:task_id>/clock-on/", on, name="clock_on"),
    path("tasks/<int:task_id>/change-over/", over, name="clock_change_over"),
    path("clocks/<int:clock_id>/off/", off, name="clock_off"),
    path("clocks/<int:clock_id>/correct/", correct, name="clock_correct"),
]
