"""Rates of an hour by technician and kind of work; for the owner."""

from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse
from django.urls import path
from django.utils import timezone

from shop.actions import labour_rates as actions
from shop.domain.labour import LABOUR_KIND_LABELS, LabourKind
from shop.domain.labour_rates import RateEntry
from shop.domain.roles import Act
from shop.selectors.labour_rates import LabourRateRow, labour_rates
from shop.web.answers import form_page, go_on, take
from shop.web.forms import FigureField, PickField, ShopForm, count_in, posted
from shop.web.shop_facts import facts_of
from shop.web.viewer import acting_user, demand_act


class RateForm(ShopForm):
    """One rate: whose, for which kind of work, how much."""

    technician_id = PickField(label="Whose hour", required=False)
    kind = forms.ChoiceField(
        label="Sort of work",
        choices=[(kind.value, label) for kind, label in LABOUR_KIND_LABELS.items()],
    )
    hourly_rate = FigureField(
        label="Rate an hour",
        required=False,
        help_text="Without tax. Empty takes the rate away.",
    )

    def __init__(
        self, *args: Any, rows: tuple[LabourRateRow, ...], currency: str, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        shops, *people = rows
        self.fields["technician_id"] = PickField(
            label="Whose hour",
            required=False,
            empty=shops.name.lower(),
            rows=[
                (row.technician_id, row.name)
                for row in people
                if row.technician_id is not None
            ],
        )
        count_in(self, currency)


@take
def listing(request: HttpRequest) -> HttpResponse:
    """Show every rate that holds, and set one."""
    viewer = demand_act(request, Act.KEEP_SHOP_SETTINGS)
    rows = labour_rates(viewer=viewer)
    currency = facts_of(request).currency
    form = RateForm(posted(request), rows=rows, currency=currency)
    if form.is_valid():
        entry = RateEntry(**form.cleaned_data)
        before = (entry.kind, entry.hourly_rate)
        form.carry_out(
            actions.set_labour_rate,
            entry=entry,
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if form.is_valid():
            return go_on(request, _told(*before), "shop:labour_rates")
    return form_page(
        request,
        "shop/labour_rates/list.html",
        form,
        rows=rows,
        kinds=list(LABOUR_KIND_LABELS.values()),
        currency=currency,
    )


def _told(kind: str, rate: object) -> str:
    label = LABOUR_KIND_LABELS[LabourKind(kind)]
    done = "taken away" if rate is None else "set"
    return f"{label}: the rate is {done}. Hours booked already keep theirs."


urlpatterns = [path("shop/labour-rates/", listing, name="labour_rates")]
