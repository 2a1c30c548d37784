"""Labels of strip tags: asked for, waited for, downloaded."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from shop.actions import tag_labels as actions
from shop.paper.labels import LABEL_SIZE_LABELS
from shop.selectors.paper import label_file, label_papers
from shop.selectors.strip_tags import strip_tags_of
from shop.web.paper import as_download
from shop.web.viewer import acting_user, viewer_of


@never_cache
@require_safe
def page(request: HttpRequest, work_order_id: int) -> HttpResponse:
    """Show the labels of a work order and how far each paper is."""
    viewer = viewer_of(request)
    papers = label_papers(work_order_id=work_order_id, viewer=viewer)
    return render(
        request,
        "shop/tag_labels/page.html",
        {
            "page": strip_tags_of(work_order_id=work_order_id, viewer=viewer),
            "papers": papers,
            "is_moving": any(paper.is_under_way for paper in papers),
            "sizes": [(size.value, label) for size, label in LABEL_SIZE_LABELS.items()],
        },
    )


@require_POST
def ask(request: HttpRequest, work_order_id: int) -> HttpResponse:
    """Ask for labels of the chosen tags, or of all."""
    chosen = [int(raw) for raw in request.POST.getlist("tag_ids") if raw.isdecimal()]
    actions.request_labels(
        work_order_id=work_order_id,
        tag_ids=chosen,
        size=request.POST.get("size", ""),
        acting_user=acting_user(request),
        at=timezone.now(),
    )
    return redirect("shop:tag_labels", work_order_id)


@require_safe
def download(request: HttpRequest, paper_id: int) -> HttpResponse:
    """Hand out finished labels."""
    return as_download(label_file(paper_id=paper_id, viewer=viewer_of(request)))


_OF_ORDER = "work-orders/<int:work_order_id>/strip-tags/labels"
urlpatterns = [
    path(f"{_OF_ORDER}/", page, name="tag_labels"),
    path(f"{_OF_ORDER}/ask/", ask, name="tag_labels_request"),
    path("tag-labels/<int:paper_id>/file/", download, name="tag_labels_file"),
]
