"""The running clock in the head of every page, read before the page is drawn."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from shop.domain.roles import Act
from shop.models import User
from shop.selectors.clocks import ClockRow, running_clock
from shop.web.shop_facts import facts_of

_ATTRIBUTE = "_loom_running_clock"
_NO_PAGES = ("/api/", "/static/")


class ClockBarMiddleware:
    """Looks up, in one query, the running clock of somebody who may clock on."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Look it up where a whole page may come of the request, and pass it on."""
        user = request.user
        is_page = not request.headers.get("HX-Request") and not request.path.startswith(
            _NO_PAGES
        )
        if is_page and isinstance(user, User) and user.may(Act.BOOK_LABOUR):
            found = running_clock(
                viewer=user.as_viewer(), at=timezone.now(), shop=facts_of(request)
            )
            setattr(request, _ATTRIBUTE, found)
        return self.get_response(request)


def clock_of(request: HttpRequest) -> ClockRow | None:
    """Return the viewer's running clock as it was when the request came in."""
    found = getattr(request, _ATTRIBUTE, None)
    return found if isinstance(found, ClockRow) else None
