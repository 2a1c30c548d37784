"""The shop's name and clock for every page of somebody who is signed in."""

from collections.abc import Callable
from zoneinfo import ZoneInfo

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from shop.models import User
from shop.selectors.shop_settings import ShopFacts, shop_facts

_ATTRIBUTE = "_loom_shop_facts"


class ShopFactsMiddleware:
    """Reads the shop's settings once a request and sets the clock to its time zone."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer in the shop's own time."""
        if not isinstance(request.user, User):
            return self.get_response(request)
        facts = shop_facts()
        setattr(request, _ATTRIBUTE, facts)
        with timezone.override(ZoneInfo(facts.time_zone)):
            response = self.get_response(request)
        # Nobody who signs in after us shall find our pages in the browser's cache;
        # going back to a half-filled form must still work, so it is not "no-store".
        response.headers.setdefault("Cache-Control", "private, no-cache")
        return response


def facts_of(request: HttpRequest) -> ShopFacts:
    """Return the shop's settings as they were when the request came in."""
    found = getattr(request, _ATTRIBUTE, None)
    return found if isinstance(found, ShopFacts) else shop_facts()
