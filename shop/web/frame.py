"""What base.html needs on every page: the theme, the viewer, the navigation."""

from typing import Any

from django.http import HttpRequest

from shop.models import User
from shop.web.clock_bar import clock_of
from shop.web.nav import nav_items
from shop.web.theme import theme_of


def page_frame(request: HttpRequest) -> dict[str, Any]:
    """Return the frame; it reads nothing but the request."""
    frame: dict[str, Any] = {"theme": theme_of(request), "viewer": None}
    # An error page may be drawn before anybody was recognised.
    user = getattr(request, "user", None)
    if isinstance(user, User):
        viewer = user.as_viewer()
        frame["viewer"] = viewer
        frame["running_clock"] = clock_of(request)
        frame["nav_items"] = nav_items(viewer=viewer, path=request.path)
    return frame
