"""The plan: the promise on the work order's page, and the board of all weeks."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path
from django.utils import timezone
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from shop.actions import plans as actions
from shop.selectors.plan_board import plan_board
from shop.selectors.plans import plan_panel
from shop.web.answers import go_on
from shop.web.viewer import acting_user, viewer_of

ASKED = "The plan is being worked out anew; it takes a few seconds."


@never_cache
@require_safe
def board(request: HttpRequest) -> HttpResponse:
    """Show every technician's weeks, and the promises by the queue."""
    found = plan_board(viewer=viewer_of(request), at=timezone.now())
    return render(request, "shop/plans/board.html", {"board": found})


@never_cache
@require_safe
def page(request: HttpRequest, work_order_id: int) -> HttpResponse:
    """Show the promise of one work order with its reasons."""
    return _panel(request, work_order_id, "shop/plans/page.html")


@never_cache
@require_safe
def panel(request: HttpRequest, work_order_id: int) -> HttpResponse:
    """Show the promise alone, for the page of the work order."""
    return _panel(request, work_order_id, "shop/plans/panel.html")


@require_POST
def work_out(request: HttpRequest) -> HttpResponse:
    """Have the plan worked out anew."""
    actions.request_plan(acting_user=acting_user(request), at=timezone.now())
    back = request.POST.get("next", "")
    if url_has_allowed_host_and_scheme(back, allowed_hosts=None):
        return go_on(request, ASKED, back)
    return go_on(request, ASKED, "shop:plan_board")


def _panel(request: HttpRequest, work_order_id: int, template: str) -> HttpResponse:
    found = plan_panel(
        work_order_id=work_order_id, viewer=viewer_of(request), at=timezone.now()
    )
    return render(request, template, {"panel": found})


urlpatterns = [
    path("plan/", board, name="plan_board"),
    path("plan/work-out/", work_out, name="plan_work_out"),
    path("work-orders/<int:work_order_id>/plan/", page, name="plan"),
    path("work-orders/<int:work_order_id>/plan/panel/", panel, name="plan_panel"),
]
