"""Writing down what an odometer shows, and mending a wrong reading."""

from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse
from django.urls import path, reverse
from django.utils import timezone

from shop.actions import odometer_readings as actions
from shop.domain.odometer_readings import ODOMETER_UNIT_LABELS, OdometerEntry
from shop.domain.roles import Act
from shop.selectors.bikes import bike as bike_of
from shop.selectors.odometer_readings import odometer_of_bike, odometer_reading
from shop.selectors.work_order_rows import open_orders_of_bike
from shop.web.answers import form_page, go_on, take
from shop.web.forms import (
    DayField,
    FigureField,
    PickField,
    ShopForm,
    posted,
    text_field,
)
from shop.web.viewer import acting_user, demand_act

_FORM = "shop/odometer_readings/form.html"


class ReadingForm(ShopForm):
    """What the odometer shows."""

    distance = FigureField(label="It shows", min_value=0)
    unit = forms.ChoiceField(
        label="In",
        choices=[(unit.value, label) for unit, label in ODOMETER_UNIT_LABELS.items()],
    )
    read_on = DayField(label="Read on", required=False, help_text="Empty: today.")
    work_order_id = PickField(label="On the work order", required=False)
    reason = text_field(
        "Reason",
        longest=200,
        required=False,
        help_text="Only where it shows less than before, for example: instrument "
        "replaced.",
    )

    def __init__(self, *args: Any, orders: list[tuple[int, str]], **kwargs: Any):
        super().__init__(*args, **kwargs)
        self.fields["work_order_id"] = PickField(
            label="On the work order", required=False, empty="none", rows=orders
        )

    def entry(self) -> OdometerEntry:
        """Return what was entered."""
        given = self.cleaned_data
        return OdometerEntry(
            distance=given["distance"],
            unit=given["unit"],
            read_on=given["read_on"],
            reason=given["reason"],
        )


class CorrectionForm(ReadingForm):
    """What it showed in truth, and why the first figure was wrong."""

    reason = text_field("Why the first figure was wrong", longest=200)

    def __init__(self, *args: Any, **kwargs: Any):
        super().__init__(*args, orders=[], **kwargs)
        del self.fields["work_order_id"]


@take
def add(request: HttpRequest, bike_id: int) -> HttpResponse:
    """Write down a reading."""
    viewer = demand_act(request, Act.KEEP_BIKES)
    bike = bike_of(bike_id=bike_id, viewer=viewer)
    known = odometer_of_bike(bike_id=bike_id, viewer=viewer)
    orders = open_orders_of_bike(bike_id=bike_id, viewer=viewer)
    form = ReadingForm(
        posted(request),
        orders=[(order.id, order.label) for order in orders],
        initial={
            "unit": known.unit,
            "work_order_id": orders[0].id if orders else None,
        },
    )
    if form.is_valid():
        done = form.carry_out(
            actions.read_odometer,
            bike_id=bike_id,
            entry=form.entry(),
            work_order_id=form.cleaned_data["work_order_id"],
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            return go_on(request, "The reading is written down.", "shop:bike", bike_id)
    return form_page(
        request,
        _FORM,
        form,
        bike=bike,
        known=known,
        heading=f"Odometer of {bike.name}",
        submit_text="Write it down",
        cancel_href=reverse("shop:bike", args=[bike_id]),
    )


@take
def correct(request: HttpRequest, reading_id: int) -> HttpResponse:
    """Put a right reading in the place of a wrong one; both stay in sight."""
    viewer = demand_act(request, Act.KEEP_BIKES)
    wrong = odometer_reading(reading_id=reading_id, viewer=viewer)
    bike = bike_of(bike_id=wrong.bike_id, viewer=viewer)
    form = CorrectionForm(
        posted(request),
        initial={
            "distance": wrong.distance,
            "unit": wrong.unit,
            "read_on": wrong.read_on,
        },
    )
    if form.is_valid():
        done = form.carry_out(
            actions.correct_odometer,
            reading_id=reading_id,
            entry=form.entry(),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            said = "Corrected. The first figure stays in sight."
            return go_on(request, said, "shop:bike", bike.id)
    return form_page(
        request,
        _FORM,
        form,
        bike=bike,
        wrong=wrong,
        heading=f"Correct {wrong.text}",
        submit_text="Correct it",
        cancel_href=reverse("shop:bike", args=[bike.id]),
    )


urlpatterns = [
    path("bikes/<int:bike_id>/odometer/add/", add, name="odometer_reading_add"),
    path(
        "odometer-readings/<int:reading_id>/correct/",
        correct,
        name="odometer_reading_correct",
    ),
]
