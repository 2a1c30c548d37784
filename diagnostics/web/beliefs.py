"""The history of belief, step by step."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from diagnostics.selectors.cases import replay_page
from shop.web.viewer import viewer_of


@require_safe
def replay(request: HttpRequest, case_id: int) -> HttpResponse:
    """Show what was believed at one step."""
    wanted = request.GET.get("step", "")
    step = int(wanted) if wanted.isdecimal() and len(wanted) < 9 else None  # noqa: PLR2004 - fits the column
    page = replay_page(case_id=case_id, step=step, viewer=viewer_of(request))
    context = {"page": page, "head": page.head}
    return render(request, "diagnostics/beliefs/replay.html", context)
