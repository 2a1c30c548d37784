"""The page that shows the API: every address, what it takes and what it answers."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe


@require_safe
def page(request: HttpRequest) -> HttpResponse:
    """Show the API's description; trying it out uses the present session."""
    return render(request, "shop/api_docs/page.html")
