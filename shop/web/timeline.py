"""Everything ever done to a bike, on one page after the other."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path
from django.views.decorators.http import require_safe

from shop.selectors.bikes import bike as bike_of
from shop.selectors.timeline import bike_timeline, timeline_kinds
from shop.web.lists import pager, window_of
from shop.web.viewer import viewer_of


@require_safe
def page(request: HttpRequest, bike_id: int) -> HttpResponse:
    """Show a bike's time line, narrowed to one kind where asked."""
    viewer = viewer_of(request)
    bike = bike_of(bike_id=bike_id, viewer=viewer)
    kinds = timeline_kinds()
    asked = request.GET.get("kind", "")
    chosen = asked if any(kind.key == asked for kind in kinds) else ""
    found = bike_timeline(
        bike_id=bike_id, viewer=viewer, kind=chosen, window=window_of(request)
    )
    return render(
        request,
        "shop/timeline/page.html",
        {
            "bike": bike,
            "rows": found.rows,
            "kinds": kinds,
            "chosen": chosen,
            "pager": pager(found, kind=chosen),
        },
    )


urlpatterns = [
    path("bikes/<int:bike_id>/timeline/", page, name="bike_timeline"),
]
