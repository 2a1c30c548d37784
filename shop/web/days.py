"""A technician's own day: what is booked, what runs, what to take up next."""

from datetime import date, timedelta

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path
from django.utils import timezone
from django.utils.dateparse import parse_date
from django.views.decorators.http import require_safe

from shop.domain.roles import Act
from shop.selectors.days import my_day
from shop.web.viewer import demand_act

_EARLIEST, _LATEST = date(1970, 1, 2), date(9000, 1, 1)


@require_safe
def page(request: HttpRequest) -> HttpResponse:
    """Show the viewer's own day; today unless another is asked for."""
    viewer = demand_act(request, Act.BOOK_LABOUR)
    today = timezone.localdate()
    day = _asked(request.GET.get("day", "")) or today
    return render(
        request,
        "shop/days/page.html",
        {
            "page": my_day(viewer=viewer, day=day, today=today, at=timezone.now()),
            "before": day - timedelta(days=1),
            "after": day + timedelta(days=1) if day < today else None,
        },
    )


def _asked(text: str) -> date | None:
    """Return the day asked for; what is no day that we can show counts as none."""
    try:
        day = parse_date(text)
    except ValueError:
        return None
    return day if day is not None and _EARLIEST < day < _LATEST else None


urlpatterns = [path("my-day/", page, name="my_day")]
