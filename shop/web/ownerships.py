"""A bike changes hands."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import path, reverse
from django.utils import timezone

from shop.actions import ownerships as actions
from shop.domain.ownerships import Handing
from shop.domain.roles import Act
from shop.selectors.bikes import bike as bike_of
from shop.selectors.customers import customer_list
from shop.web.answers import form_page, go_on, take
from shop.web.forms import DayField, PickField, ShopForm, posted, text_field
from shop.web.lists import pager, search_text, window_of
from shop.web.viewer import acting_user, demand_act


class PassOnForm(ShopForm):
    """Who gets the bike, and when."""

    owner_id = PickField(label="New owner")
    on = DayField(label="Since", required=False, help_text="Empty: today.")
    note = text_field(
        "Note",
        longest=400,
        required=False,
        help_text="For example: left to her, sold at auction.",
    )

    def __init__(self, *args: Any, owners: list[tuple[int, str]], **kwargs: Any):
        super().__init__(*args, **kwargs)
        self.fields["owner_id"] = PickField(label="New owner", rows=owners)


@take
def pass_on(request: HttpRequest, bike_id: int) -> HttpResponse:
    """Give the bike a new owner; what was booked in before stays with the old one."""
    viewer = demand_act(request, Act.KEEP_CUSTOMERS)
    bike = bike_of(bike_id=bike_id, viewer=viewer)
    search = search_text(request)
    found = customer_list(viewer=viewer, search=search, window=window_of(request))
    owners = [(row.id, row.name) for row in found.rows if row.id != bike.owner_id]
    form = PassOnForm(posted(request), owners=owners)
    if form.is_valid():
        given = form.cleaned_data
        done = form.carry_out(
            actions.pass_on_bike,
            bike_id=bike_id,
            owner_id=given["owner_id"],
            handing=Handing(on=given["on"], note=given["note"]),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            said = f"{done.name} belongs to {done.owner.name} now."
            return go_on(request, said, "shop:bike", bike_id)
    return form_page(
        request,
        "shop/ownerships/pass_on.html",
        form,
        bike=bike,
        search=search,
        pager=pager(found, q=search),
        submit_text="Pass on",
        cancel_href=reverse("shop:bike", args=[bike_id]),
    )


urlpatterns = [
    path("bikes/<int:bike_id>/pass-on/", pass_on, name="bike_pass_on"),
]
