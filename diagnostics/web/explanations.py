"""Why a segment has its verdict."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from diagnostics.selectors.explanations import explanation_page
from shop.web.viewer import viewer_of


@require_safe
def page(request: HttpRequest, case_id: int, segment: str) -> HttpResponse:
    """Show the chain from the findings to the verdict."""
    found = explanation_page(
        case_id=case_id, segment=segment, viewer=viewer_of(request)
    )
    context = {"page": found, "head": found.head}
    return render(request, "diagnostics/explanations/page.html", context)
