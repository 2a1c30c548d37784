"""Measurements in the browser: chosen, taken, judged, withdrawn."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from diagnostics.actions.measurements import record_measurement, void_measurement
from diagnostics.selectors.measuring import (
    measurement_page,
    measurements_page,
    measuring_page,
)
from diagnostics.web.forms import ReasonForm, show_refusal
from diagnostics.web.measurement_form import MeasurementForm
from diagnostics.web.taps import fresh_key
from shop.domain.refusals import Refusal
from shop.domain.roles import Act
from shop.web.viewer import acting_user, demand_act, viewer_of


@require_safe
def listed(request: HttpRequest, case_id: int) -> HttpResponse:
    """List what was measured, and what can be."""
    page = measurements_page(case_id=case_id, viewer=viewer_of(request))
    context = {"page": page, "head": page.head}
    return render(request, "diagnostics/measurements/list.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def new(request: HttpRequest, case_id: int, kind: str) -> HttpResponse:
    """Take a measurement of one kind."""
    viewer = demand_act(request, Act.FIND_FAULTS)
    page = measuring_page(case_id=case_id, kind=kind, viewer=viewer)
    form = MeasurementForm(
        request.POST or None, kind=page.kind, initial={"key": fresh_key()}
    )
    if request.method == "POST" and form.is_valid():
        try:
            made = record_measurement(
                case_id=case_id,
                entry=form.entry(),
                key=form.cleaned_data["key"],
                acting_user=acting_user(request),
                at=timezone.now(),
            )
        except Refusal as refusal:
            form.show(refusal)
        else:
            return redirect("diagnostics:measurement", measurement_id=made.pk)
    context = {"page": page, "head": page.head, "kind": page.kind, "form": form}
    return render(request, "diagnostics/measurements/new.html", context)


@require_safe
def page(request: HttpRequest, measurement_id: int) -> HttpResponse:
    """Show one measurement and its judgement."""
    shown = measurement_page(measurement_id=measurement_id, viewer=viewer_of(request))
    context = {"head": shown.head, "measurement": shown.measurement}
    return render(request, "diagnostics/measurements/page.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def void(request: HttpRequest, measurement_id: int) -> HttpResponse:
    """Withdraw a measurement with a reason."""
    viewer = demand_act(request, Act.FIND_FAULTS)
    shown = measurement_page(measurement_id=measurement_id, viewer=viewer)
    form = ReasonForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            void_measurement(
                measurement_id=measurement_id,
                reason=form.cleaned_data["reason"],
                acting_user=acting_user(request),
                at=timezone.now(),
            )
        except Refusal as refusal:
            show_refusal(form, refusal)
        else:
            number = shown.measurement.sequence
            messages.info(request, f"Measurement {number} is void. It stays on record.")
            return redirect("diagnostics:measurements", case_id=shown.head.case_id)
    context = {"head": shown.head, "measurement": shown.measurement, "form": form}
    return render(request, "diagnostics/measurements/void.html", context)
