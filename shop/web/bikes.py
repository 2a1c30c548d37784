"""Pages about bikes."""

from dataclasses import asdict

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path, reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from shop.actions import bikes as actions
from shop.domain.bikes import (
    EARTH_LABELS,
    FIRST_YEAR,
    LAST_YEAR,
    BikeDetails,
    SystemVoltage,
)
from shop.domain.roles import Act
from shop.selectors.bikes import bike as bike_row_of
from shop.selectors.bikes import bike_list, bike_page
from shop.selectors.customers import customer, customer_list
from shop.web.answers import form_page, go_on, take
from shop.web.forms import ShopForm, posted, prose_field, text_field
from shop.web.lists import pager, search_text, window_of
from shop.web.numbers import number_in_query
from shop.web.viewer import acting_user, demand_act, viewer_of

_FORM = "shop/bikes/form.html"
_AS_STAMPED = "As it is stamped; any letters and signs."


class BikeForm(ShopForm):
    """What is entered about a bike."""

    maker = text_field("Make", longest=80)
    model = text_field("Model", longest=80)
    year = forms.IntegerField(
        label="Year",
        required=False,
        min_value=FIRST_YEAR,
        max_value=LAST_YEAR,
        widget=forms.TextInput(attrs={"inputmode": "numeric", "size": 6}),
    )
    registration = text_field("Registration", longest=40, required=False)
    colour = text_field("Colour", longest=80, required=False)
    frame_number = text_field(
        "Frame number", longest=80, required=False, help_text=_AS_STAMPED
    )
    engine_number = text_field(
        "Engine number", longest=80, required=False, help_text=_AS_STAMPED
    )
    system_volts = forms.TypedChoiceField(
        label="System voltage",
        coerce=int,
        choices=[
            ("", "choose"),
            *((volts.value, f"{volts.value} V") for volts in SystemVoltage),
        ],
    )
    earth = forms.ChoiceField(
        label="Earth",
        choices=[
            ("", "choose"),
            *((earth.value, label) for earth, label in EARTH_LABELS.items()),
        ],
        help_text="Which battery terminal is tied to the frame. Look; never assume it.",
    )
    notes = prose_field("Notes", longest=5000, required=False)


@require_safe
def listing(request: HttpRequest) -> HttpResponse:
    """List the bikes, by make."""
    viewer = viewer_of(request)
    search = search_text(request)
    found = bike_list(viewer=viewer, search=search, window=window_of(request))
    return render(
        request,
        "shop/bikes/list.html",
        {
            "rows": found.rows,
            "pager": pager(found, q=search),
            "search": search,
            "sees_owners": viewer.may(Act.SEE_CUSTOMERS),
            "may_keep": viewer.may(Act.KEEP_BIKES),
        },
    )


@require_safe
def page(request: HttpRequest, bike_id: int) -> HttpResponse:
    """Show one bike with everything that is known of it."""
    viewer = viewer_of(request)
    return render(
        request,
        "shop/bikes/page.html",
        {
            "page": bike_page(bike_id=bike_id, viewer=viewer),
            "may_keep": viewer.may(Act.KEEP_BIKES),
            "may_book_in": viewer.may(Act.BOOK_IN),
            "may_pass_on": viewer.may(Act.KEEP_CUSTOMERS),
        },
    )


@take
def add(request: HttpRequest) -> HttpResponse:
    """Write down a bike of the owner named in the address; ask for one otherwise."""
    viewer = demand_act(request, Act.KEEP_BIKES)
    owner_id = number_in_query(request, "owner")
    if owner_id is None:
        return _pick_owner(request)
    owner = customer(customer_id=owner_id, viewer=viewer)
    form = BikeForm(posted(request))
    if form.is_valid():
        made = form.carry_out(
            actions.add_bike,
            owner_id=owner_id,
            details=BikeDetails(**form.cleaned_data),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if made is not None:
            said = f"{made.name} is written down. Book it in when it is here."
            return go_on(request, said, "shop:bike", made.pk)
    return form_page(
        request,
        _FORM,
        form,
        heading=f"New bike of {owner.name}",
        submit_text="Add the bike",
        cancel_href=reverse("shop:customer", args=[owner_id]),
    )


@take
def edit(request: HttpRequest, bike_id: int) -> HttpResponse:
    """Correct a bike's details."""
    viewer = demand_act(request, Act.KEEP_BIKES)
    bike = bike_row_of(bike_id=bike_id, viewer=viewer)
    form = BikeForm.editing(request, asdict(bike))
    if form.is_valid():
        done = form.carry_out(
            actions.edit_bike,
            bike_id=bike_id,
            changes=form.changes(),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            return go_on(
                request, f"Details of {done.name} saved.", "shop:bike", bike_id
            )
    return form_page(
        request,
        _FORM,
        form,
        heading=f"Edit {bike.name}",
        submit_text="Save",
        bike=bike,
        cancel_href=reverse("shop:bike", args=[bike_id]),
    )


def _pick_owner(request: HttpRequest) -> HttpResponse:
    viewer = demand_act(request, Act.SEE_CUSTOMERS)
    search = search_text(request)
    found = customer_list(viewer=viewer, search=search, window=window_of(request))
    return render(
        request,
        "shop/bikes/pick_owner.html",
        {
            "rows": found.rows,
            "pager": pager(found, q=search),
            "search": search,
            "may_keep_customers": viewer.may(Act.KEEP_CUSTOMERS),
        },
    )


urlpatterns = [
    path("bikes/", listing, name="bikes"),
    path("bikes/add/", add, name="bike_add"),
    path("bikes/<int:bike_id>/", page, name="bike"),
    path("bikes/<int:bike_id>/edit/", edit, name="bike_edit"),
]
