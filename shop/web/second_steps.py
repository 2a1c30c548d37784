"""Pages about the second step when signing in: one's own, and the owner's."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path, reverse
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from shop.actions import second_steps as actions
from shop.domain.roles import Act
from shop.domain.second_steps import Demand
from shop.selectors.second_steps import (
    has_second_step,
    second_step_demand,
    second_step_list,
    second_step_rule,
)
from shop.web.answers import form_page, go_on, take
from shop.web.forms import DayField, ShopForm
from shop.web.viewer import acting_user, demand_act, viewer_of


class SignInRulesForm(ShopForm):
    """From which day a second step is demanded."""

    from_day = DayField(
        label="Demanded from",
        required=False,
        help_text="Empty: of nobody. Leave people two weeks; whoever has none on the "
        "day is led to set it up after signing in, and is never locked out.",
    )


@require_safe
def own(request: HttpRequest) -> HttpResponse:
    """Say why a second step is asked for, and lead to where it is set up."""
    viewer = viewer_of(request)
    demand = second_step_demand(viewer=viewer, on=timezone.localdate())
    context: dict[str, Any] = {
        "is_due": demand is Demand.NOW,
        "from_day": second_step_rule().demanded_from,
        "is_demanded": demand is not Demand.NONE,
        "has_second_step": has_second_step(user_id=viewer.user_id),
    }
    return render(request, "shop/second_steps/own.html", context)


@take
def rules(request: HttpRequest) -> HttpResponse:
    """Say from when those who handle money need one, and show who has one."""
    viewer = demand_act(request, Act.KEEP_SHOP_SETTINGS)
    rule = second_step_rule()
    form = SignInRulesForm.editing(request, {"from_day": rule.demanded_from})
    if form.is_valid():
        done = form.carry_out(
            actions.demand_second_step,
            from_day=form.cleaned_data["from_day"],
            acting_user=acting_user(request),
            at=timezone.now(),
        )
        if done is not None:
            return go_on(request, "Saved.", "shop:sign_in_rules")
    return form_page(
        request,
        "shop/second_steps/rules.html",
        form,
        rows=second_step_list(viewer=viewer, on=timezone.localdate()),
        submit_text="Save",
        cancel_href=reverse("shop:settings"),
    )


@require_POST
def reset(request: HttpRequest, person_id: int) -> HttpResponse:
    """Take a second step off whose phone or key is lost."""
    person = actions.reset_second_step(
        person_id=person_id, acting_user=acting_user(request), at=timezone.now()
    )
    said = f"{person.name} signs in with the password alone until a new one is set up."
    return go_on(request, said, "shop:person", person_id)


urlpatterns = [
    path("me/second-step/", own, name="second_step"),
    path("shop/sign-in/", rules, name="sign_in_rules"),
    path("people/<int:person_id>/second-step/reset/", reset, name="second_step_reset"),
]
