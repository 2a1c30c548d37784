"""Response headers that no package sets for us."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

_POLICY = "camera=(self), geolocation=(), microphone=(), payment=(), usb=()"


class PermissionsPolicyMiddleware:
    """Tells the browser which of its powers our pages use: the camera alone."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Add the header to every response."""
        response = self.get_response(request)
        response.headers.setdefault("Permissions-Policy", _POLICY)
        return response
