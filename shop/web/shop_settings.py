"""The shop's own settings, and who may do what; for the owner."""

from dataclasses import asdict, dataclass
from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path, reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from shop.actions import shop_settings as actions
from shop.domain.act_words import act_words
from shop.domain.clocks import MOST_MINIMUM_MINUTES, STEPS, TIME_ROUNDING_LABELS
from shop.domain.money import MAX_MINOR_DIGITS
from shop.domain.pricing import TaxRounding
from shop.domain.roles import ROLE_LABELS, Act, Role, may
from shop.domain.shop_settings import LONGEST_CLOCK_HOURS
from shop.models.columns import choices
from shop.selectors.shop_settings import shop_facts
from shop.selectors.tax_rates import TaxRateRow, tax_rates_in_use
from shop.web.answers import form_page, go_on, take
from shop.web.forms import (
    FigureField,
    PickField,
    ShopForm,
    count_in,
    prose_field,
    text_field,
)
from shop.web.viewer import acting_user, demand_act


class ShopSettingsForm(ShopForm):
    """What can be set about the shop."""

    name = text_field("Name of the shop", longest=120)
    address = prose_field("Address", longest=500, required=False, rows=3)
    phone = text_field("Phone", longest=40, required=False, inputmode="tel")
    email = forms.EmailField(label="E-mail", required=False)
    tax_number = text_field("Tax number", longest=40, required=False)
    currency = text_field(
        "Currency", longest=3, help_text="Three letters (ISO 4217), for example EUR."
    )
    minor_digits = forms.IntegerField(
        label="Decimal places",
        min_value=0,
        max_value=MAX_MINOR_DIGITS,
        widget=forms.TextInput(attrs={"inputmode": "numeric", "size": 3}),
    )
    hourly_rate = FigureField(label="Rate an hour", help_text="Without tax.")
    default_tax_rate_id = PickField(label="Usual tax rate", required=False)
    tax_rounding = forms.ChoiceField(
        label="Tax is rounded",
        choices=[
            (TaxRounding.PER_RATE.value, "once for each rate, on the net sum"),
            (TaxRounding.PER_LINE.value, "line by line"),
        ],
    )
    time_zone = text_field(
        "Time zone", longest=60, help_text="As in Europe/London.", spellcheck="false"
    )
    time_rounding = forms.ChoiceField(
        label="Worked time is rounded",
        choices=choices(TIME_ROUNDING_LABELS),
        help_text="Each stretch of work once, also when it goes past midnight.",
    )
    time_step_minutes = PickField(
        label="In steps of", rows=[(step, f"{step} minutes") for step in STEPS]
    )
    time_minimum_minutes = forms.IntegerField(
        label="Least that is booked, in minutes",
        min_value=0,
        max_value=MOST_MINIMUM_MINUTES,
        widget=forms.TextInput(attrs={"inputmode": "numeric", "size": 4}),
        help_text="0 for no minimum. A clock stopped within a minute books nothing.",
    )
    clock_limit_hours = forms.IntegerField(
        label="A clock is forgotten after, in hours",
        min_value=1,
        max_value=LONGEST_CLOCK_HOURS,
        widget=forms.TextInput(attrs={"inputmode": "numeric", "size": 3}),
        help_text="Or at midnight, whichever comes first.",
    )
    invoice_notes = prose_field(
        "Note on papers",
        longest=5000,
        required=False,
        help_text="Printed on every report: bank, terms, what local law asks for.",
    )

    def __init__(
        self, *args: Any, rates: tuple[TaxRateRow, ...], currency: str, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.fields["default_tax_rate_id"] = PickField(
            label="Usual tax rate",
            required=False,
            empty="none",
            rows=[(rate.id, rate.label) for rate in rates],
        )
        count_in(self, currency)


@dataclass(frozen=True, slots=True)
class PermissionRow:
    """One act, and for each role whether it may."""

    act: str
    marks: tuple[bool, ...]


@take
def settings(request: HttpRequest) -> HttpResponse:
    """Change the shop's settings."""
    demand_act(request, Act.KEEP_SHOP_SETTINGS)
    facts = shop_facts()
    form = ShopSettingsForm.editing(
        request, asdict(facts), rates=tax_rates_in_use(), currency=facts.currency
    )
    if form.is_valid():
        done = form.carry_out(
            actions.edit_shop_settings,
            changes=form.changes(),
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            return go_on(request, "Settings saved.", "shop:settings")
    return form_page(
        request,
        "shop/settings/form.html",
        form,
        submit_text="Save the settings",
        cancel_href=reverse("shop:today"),
    )


@require_safe
def permissions(request: HttpRequest) -> HttpResponse:
    """Show which role may do what."""
    demand_act(request, Act.KEEP_PEOPLE)
    rows = [
        PermissionRow(
            act=act_words(act),
            marks=tuple(may(role, act) for role in Role),
        )
        for act in Act
    ]
    return render(
        request,
        "shop/settings/permissions.html",
        {"roles": list(ROLE_LABELS.values()), "rows": rows},
    )


urlpatterns = [
    path("shop/", settings, name="settings"),
    path("shop/permissions/", permissions, name="permissions"),
]
