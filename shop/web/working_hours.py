"""Who is at the bench when: each technician's week."""

from dataclasses import asdict

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path, reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from shop.actions.working_hours import set_working_hours
from shop.domain.roles import Act
from shop.domain.working_hours import WEEKDAYS
from shop.selectors.working_hours import working_hours_list, working_hours_of
from shop.web.answers import form_page, go_on, take
from shop.web.forms import FigureField, ShopForm
from shop.web.viewer import acting_user, demand_act, viewer_of


class WorkingHoursForm(ShopForm):
    """Hours at the bench by weekday."""

    monday = FigureField(label="Monday", unit="h", max_digits=6)
    tuesday = FigureField(label="Tuesday", unit="h", max_digits=6)
    wednesday = FigureField(label="Wednesday", unit="h", max_digits=6)
    thursday = FigureField(label="Thursday", unit="h", max_digits=6)
    friday = FigureField(label="Friday", unit="h", max_digits=6)
    saturday = FigureField(label="Saturday", unit="h", max_digits=6)
    sunday = FigureField(label="Sunday", unit="h", max_digits=6)


@require_safe
def listing(request: HttpRequest) -> HttpResponse:
    """Show everybody's week and who is away."""
    viewer = viewer_of(request)
    rows = working_hours_list(viewer=viewer, today=timezone.localdate())
    return render(
        request,
        "shop/working_hours/list.html",
        {
            "rows": rows,
            "weekdays": [day.capitalize() for day in WEEKDAYS],
            "may_keep": viewer.may(Act.KEEP_WORKING_HOURS),
        },
    )


@take
def edit(request: HttpRequest, technician_id: int) -> HttpResponse:
    """Write somebody's week down."""
    viewer = demand_act(request, Act.KEEP_WORKING_HOURS)
    row = working_hours_of(technician_id=technician_id, viewer=viewer)
    form = WorkingHoursForm.editing(request, asdict(row))
    if form.is_valid():
        done = form.carry_out(
            set_working_hours,
            technician_id=technician_id,
            changes=form.changes(),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            said = f"Hours of {row.technician_name} saved."
            return go_on(request, said, "shop:working_hours")
    return form_page(
        request,
        "shop/working_hours/form.html",
        form,
        heading=f"Hours of {row.technician_name} at the bench",
        submit_text="Save",
        cancel_href=reverse("shop:working_hours"),
    )


urlpatterns = [
    path("working-hours/", listing, name="working_hours"),
    path("working-hours/<int:technician_id>/", edit, name="working_hours_edit"),
]
