"""Leads those who need a second step, and have none, to set one up first."""

from collections.abc import Callable

from django.contrib import messages
from django.contrib.auth.signals import user_logged_in
from django.dispatch import receiver
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone

from shop.domain.second_steps import Demand
from shop.models import User
from shop.selectors.second_steps import second_step_demand, second_step_rule

# Where one signs in and out and sets the second step up, and what those pages need;
# the API asks for itself, since programs sign in by token.
_OPEN = ("/api/", "/account/", "/me/", "/theme/", "/static/", "/livez", "/readyz")


class SecondStepMiddleware:
    """Keeps the shop shut until the second step that is due has been set up."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer, or lead to where the second step is set up."""
        if request.path.startswith(_OPEN) or not is_due(request.user):
            return self.get_response(request)
        return redirect("shop:second_step")


def is_due(user: object) -> bool:
    """Say whether somebody must set up a second step before anything else."""
    if not isinstance(user, User):
        return False
    demand = second_step_demand(viewer=user.as_viewer(), on=timezone.localdate())
    return demand is Demand.NOW


@receiver(user_logged_in)
def remind(request: HttpRequest, user: object, **_: object) -> None:
    """Say at signing in that a second step will soon be asked for."""
    if not isinstance(user, User) or not hasattr(request, "_messages"):
        return
    demand = second_step_demand(viewer=user.as_viewer(), on=timezone.localdate())
    day = second_step_rule().demanded_from
    if demand is Demand.SOON and day is not None:
        messages.warning(
            request,
            f"From {day:%d %B %Y} signing in asks you for a second step. "
            "Set it up under your name, it takes two minutes.",
        )
