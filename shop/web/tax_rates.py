"""Tax rates taken into use and retired; for the owner."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import path
from django.utils import timezone
from django.views.decorators.http import require_POST

from shop.actions import tax_rates as actions
from shop.domain.refusals import NotAllowed, NotFound, Refusal
from shop.domain.roles import Act
from shop.selectors.tax_rates import every_tax_rate
from shop.web.answers import form_page, go_on, take
from shop.web.forms import FigureField, ShopForm, posted, text_field
from shop.web.viewer import acting_user, demand_act


class TaxRateForm(ShopForm):
    """A new rate."""

    label = text_field(
        "Name",
        longest=60,
        help_text="As it stands on paper, for example “VAT 20 %”.",
    )
    percent = FigureField(label="Rate", unit="%", min_value=0, max_value=100)


@take
def listing(request: HttpRequest) -> HttpResponse:
    """List the rates, and take a new one into use."""
    demand_act(request, Act.KEEP_SHOP_SETTINGS)
    form = TaxRateForm(posted(request))
    if form.is_valid():
        made = form.carry_out(
            actions.add_tax_rate,
            label=form.cleaned_data["label"],
            percent=form.cleaned_data["percent"],
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if made is not None:
            return go_on(request, f"{made.label} is in use.", "shop:tax_rates")
    return form_page(
        request, "shop/settings/tax_rates.html", form, rates=every_tax_rate()
    )


@require_POST
def retire(request: HttpRequest, tax_rate_id: int) -> HttpResponse:
    """Retire a rate; lines that bear it keep it."""
    try:
        done = actions.retire_tax_rate(
            tax_rate_id=tax_rate_id, acting_user=acting_user(request), at=timezone.now()
        )
    except (NotAllowed, NotFound):
        raise
    except Refusal as refusal:
        messages.error(request, refusal.message)
        return redirect("shop:tax_rates")
    return go_on(request, f"{done.label} is retired.", "shop:tax_rates")


urlpatterns = [
    path("shop/tax-rates/", listing, name="tax_rates"),
    path("shop/tax-rates/<int:tax_rate_id>/retire/", retire, name="tax_rate_retire"),
]
