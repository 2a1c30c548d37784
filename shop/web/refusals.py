"""What a refusal looks like in the browser when no form is there to show it."""

from collections.abc import Callable
from http import HTTPStatus

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from shop.domain.refusals import (
    ConcurrentChange,
    IllegalMove,
    NotAllowed,
    NotFound,
    Refusal,
)

_STATUS: dict[type[Refusal], HTTPStatus] = {
    NotAllowed: HTTPStatus.FORBIDDEN,
    NotFound: HTTPStatus.NOT_FOUND,
    IllegalMove: HTTPStatus.CONFLICT,
    ConcurrentChange: HTTPStatus.CONFLICT,
}


class RefusalMiddleware:
    """Answers a refusal that no view has shown at a field with a page that explains."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Pass the request on."""
        return self.get_response(request)

    def process_exception(
        self, request: HttpRequest, exception: Exception
    ) -> HttpResponse | None:
        """Turn a refusal into its page; leave everything else alone."""
        if not isinstance(exception, Refusal):
            return None
        return refusal_page(request, exception)


def refusal_page(request: HttpRequest, refusal: Refusal) -> HttpResponse:
    """Return the page that says what was refused and what to do next."""
    status = _STATUS.get(type(refusal), HTTPStatus.BAD_REQUEST)
    return render(
        request,
        "shop/errors/refusal.html",
        {"refusal": refusal, "status": status.value},
        status=status,
    )
