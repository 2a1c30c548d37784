"""Remembers where people are signed in, a minute at a time."""

from collections.abc import Callable
from typing import Any

from django.contrib.auth.signals import user_logged_in
from django.core.cache import cache
from django.dispatch import receiver
from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from shop.actions.sessions import Visit, note_seen
from shop.models import User
from shop.web.sign_in import client_ip

EVERY_S = 60


class SeenMiddleware:
    """Notes a session's device and address at most once a minute."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Note the visit, then answer."""
        if isinstance(request.user, User):
            _note(request, request.user)
        return self.get_response(request)


@receiver(user_logged_in)
def note_signing_in(request: HttpRequest, user: Any, **_: Any) -> None:
    """Note the new session at once, so that the first page need not."""
    if isinstance(user, User):
        _note(request, user)


def _note(request: HttpRequest, user: User) -> None:
    key = request.session.session_key
    if not key or not cache.add(f"seen:{key}", 1, EVERY_S):
        return
    visit = Visit(
        session_key=key,
        address=client_ip(request),
        user_agent=request.headers.get("User-Agent", ""),
    )
    note_seen(visit=visit, acting_user=user, at=timezone.now())
