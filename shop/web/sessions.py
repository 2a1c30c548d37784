"""Where people are signed in, and signing out from afar."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from shop.actions import sessions as actions
from shop.selectors.sessions import sessions_of
from shop.web.answers import go_on
from shop.web.viewer import acting_user, viewer_of


@require_safe
def own(request: HttpRequest) -> HttpResponse:
    """Show where I am signed in."""
    return _page(request, viewer_of(request).user_id)


@require_safe
def of_person(request: HttpRequest, person_id: int) -> HttpResponse:
    """Show the owner where somebody is signed in."""
    return _page(request, person_id)


@require_POST
def end(request: HttpRequest, session_id: int) -> HttpResponse:
    """Sign out on one device."""
    person = actions.end_session(
        session_id=session_id, acting_user=acting_user(request), at=timezone.now()
    )
    return _back(request, person.pk, "Signed out there.")


@require_POST
def end_others(request: HttpRequest, person_id: int) -> HttpResponse:
    """Sign out everywhere but here."""
    count = actions.end_other_sessions(
        person_id=person_id,
        kept_key=_key(request),
        acting_user=acting_user(request),
        at=timezone.now(),
    )
    return _back(request, person_id, f"Signed out in {count} other places.")


def _page(request: HttpRequest, person_id: int) -> HttpResponse:
    found = sessions_of(
        person_id=person_id,
        viewer=viewer_of(request),
        at=timezone.now(),
        current_key=_key(request),
    )
    return render(request, "shop/sessions/page.html", {"sessions": found})


def _back(request: HttpRequest, person_id: int, said: str) -> HttpResponse:
    if person_id == acting_user(request).pk:
        return go_on(request, said, "shop:sessions")
    return go_on(request, said, "shop:person_sessions", person_id)


def _key(request: HttpRequest) -> str:
    return request.session.session_key or ""


urlpatterns = [
    path("me/sessions/", own, name="sessions"),
    path("people/<int:person_id>/sessions/", of_person, name="person_sessions"),
    path(
        "people/<int:person_id>/sessions/end/", end_others, name="person_sessions_end"
    ),
    path("sessions/<int:session_id>/end/", end, name="session_end"),
]
