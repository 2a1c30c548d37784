"""Two addresses for whoever watches the service: is it alive, can it work."""

from http import HTTPStatus

from django.contrib.auth.decorators import login_not_required
from django.db import DatabaseError, connection
from django.http import HttpRequest, HttpResponse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

_TEXT = "text/plain; charset=utf-8"


@login_not_required
@never_cache
@require_safe
def livez(_request: HttpRequest) -> HttpResponse:
    """Answer as long as the process can answer at all."""
    return HttpResponse("alive\n", content_type=_TEXT)


@login_not_required
@never_cache
@require_safe
def readyz(_request: HttpRequest) -> HttpResponse:
    """Answer yes when the database does; taking work in needs no broker."""
    try:
        with connection.cursor() as cursor:
            cursor.execute("SELECT 1")
    except DatabaseError:
        return HttpResponse(
            "not ready: the database does not answer\n",
            content_type=_TEXT,
            status=HTTPStatus.SERVICE_UNAVAILABLE,
        )
    return HttpResponse("ready\n", content_type=_TEXT)
