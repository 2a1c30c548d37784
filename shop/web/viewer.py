"""Who is looking: from a request to what actions and selectors ask for."""

from django.http import HttpRequest

from shop.domain.roles import Act, Viewer, demand
from shop.models import User


def acting_user(request: HttpRequest) -> User:
    """Return the person signed in; every page but a few demands one."""
    user = request.user
    if not isinstance(user, User):
        raise TypeError("a page for nobody asked who is signed in")
    return user


def viewer_of(request: HttpRequest) -> Viewer:
    """Return what selectors need to know of the person signed in."""
    return acting_user(request).as_viewer()


def demand_act(request: HttpRequest, act: Act) -> Viewer:
    """Return the viewer, or refuse where their role lacks the act."""
    viewer = viewer_of(request)
    demand(viewer.role, act)
    return viewer
