"""Pages of strip tags: what is where, one tag, and all tags of a work order."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.views.decorators.http import require_safe

from shop.domain.refusals import Refusal
from shop.domain.roles import Act
from shop.domain.strip_tags import TAG_STATE_LABELS, TagState
from shop.selectors.history import subject_history
from shop.selectors.strip_tags import (
    StripTagFilter,
    moves_of,
    strip_tag_list,
    strip_tag_page,
    strip_tags_of,
    tag_id_of,
)
from shop.web.lists import pager, search_text, window_of
from shop.web.viewer import viewer_of

UNSETTLED, ALL = "unsettled", "all"


@require_safe
def listing(request: HttpRequest) -> HttpResponse:
    """List the tags of every bike: what is where. A whole number opens its tag."""
    viewer = viewer_of(request)
    search = search_text(request)
    if (found_id := _numbered(request, search)) is not None:
        return redirect("shop:strip_tag", found_id)
    chosen = request.GET.get("state", UNSETTLED)
    state = TagState(chosen) if chosen in set(TagState) else None
    if state is None and chosen != ALL:
        chosen = UNSETTLED
    found = strip_tag_list(
        viewer=viewer,
        wanted=StripTagFilter(
            search=search, state=state, unsettled_only=chosen == UNSETTLED
        ),
        window=window_of(request),
    )
    return render(
        request,
        "shop/strip_tags/list.html",
        {
            "rows": found.rows,
            "pager": pager(found, q=search, state=chosen),
            "search": search,
            "chosen": chosen,
            "tabs": [
                (UNSETTLED, "Not settled"),
                *((state.value, label) for state, label in TAG_STATE_LABELS.items()),
                (ALL, "All"),
            ],
        },
    )


@require_safe
def page(request: HttpRequest, strip_tag_id: int) -> HttpResponse:
    """Show one tag: what it is, where it is, what may be done with it."""
    viewer = viewer_of(request)
    tag = strip_tag_page(tag_id=strip_tag_id, viewer=viewer)
    history = subject_history(kind="strip_tag", subject_id=tag.id, viewer=viewer)
    return render(
        request,
        "shop/strip_tags/page.html",
        {
            "tag": tag,
            "moves": moves_of(tag),
            "may_keep": viewer.may(Act.KEEP_TAGS) and tag.is_open,
            "history": history.rows,
            "history_total": history.total,
        },
    )


@require_safe
def of_order(request: HttpRequest, work_order_id: int) -> HttpResponse:
    """Show all tags of one work order: where each is, and what the owner gets back."""
    viewer = viewer_of(request)
    found = strip_tags_of(work_order_id=work_order_id, viewer=viewer)
    return render(
        request,
        "shop/strip_tags/of_order.html",
        {
            "page": found,
            "groups": [
                (label, found.in_state(state))
                for state, label in TAG_STATE_LABELS.items()
            ],
            "may_keep": viewer.may(Act.KEEP_TAGS) and found.is_open,
        },
    )


@require_safe
def scan(request: HttpRequest, code: str) -> HttpResponse:
    """Open the tag whose label was scanned."""
    return redirect("shop:strip_tag", tag_id_of(code=code, viewer=viewer_of(request)))


def _numbered(request: HttpRequest, search: str) -> int | None:
    if not search.upper().startswith("T-"):
        return None
    try:
        return tag_id_of(code=search, viewer=viewer_of(request))
    except Refusal:
        return None


urlpatterns = [
    path("strip-tags/", listing, name="strip_tags"),
    path("strip-tags/<int:strip_tag_id>/", page, name="strip_tag"),
    path("work-orders/<int:work_order_id>/strip-tags/", of_order, name="strip_tags_of"),
    path("t/<str:code>/", scan, name="strip_tag_scan"),
]
