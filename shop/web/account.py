"""One's own account: who I am here, and how I sign in."""

from allauth.mfa.utils import is_mfa_enabled
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from shop.domain.roles import ROLE_LABELS
from shop.web.viewer import acting_user


@require_safe
def page(request: HttpRequest) -> HttpResponse:
    """Show name, role and the ways to make signing in safer."""
    user = acting_user(request)
    return render(
        request,
        "shop/account/page.html",
        {
            "person": user.as_viewer(),
            "sign_in_name": user.username,
            "email": user.email,
            "role_label": ROLE_LABELS[user.as_viewer().role],
            "has_second_step": is_mfa_enabled(user),
        },
    )
