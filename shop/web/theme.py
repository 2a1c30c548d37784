"""Light by day, dark for the workshop at night; remembered in a cookie."""

from django.conf import settings
from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_POST

COOKIE = "loom_theme"
THEMES = ("light", "dark")
_YEAR_S = 365 * 24 * 3600


def theme_of(request: HttpRequest) -> str:
    """Return the theme that this browser asked for."""
    chosen = request.COOKIES.get(COOKIE, "")
    return chosen if chosen in THEMES else THEMES[0]


@login_not_required
@require_POST
def switch(request: HttpRequest) -> HttpResponse:
    """Remember the theme and go back to where the user was."""
    back = request.POST.get("next", "")
    is_ours = url_has_allowed_host_and_scheme(
        back, allowed_hosts={request.get_host()}, require_https=request.is_secure()
    )
    response = HttpResponseRedirect(back if is_ours else "/")
    theme = request.POST.get("theme", "")
    if theme in THEMES:
        response.set_cookie(
            COOKIE,
            theme,
            max_age=_YEAR_S,
            samesite="Lax",
            secure=settings.SESSION_COOKIE_SECURE,
        )
    return response
