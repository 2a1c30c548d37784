"""Paper on the work order's page: ask, watch, download, try again."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe
from django_htmx.middleware import HtmxDetails

from shop.actions import paper as actions
from shop.domain.paper import PaperState
from shop.domain.refusals import Refusal
from shop.paper import drawer
from shop.selectors.paper import PaperFile, paper_file, paper_panel, paper_status
from shop.web.viewer import acting_user, viewer_of

SAME_FACTS = "Nothing has changed since: the report you have is up to date."


@never_cache
@require_safe
def page(request: HttpRequest, work_order_id: int) -> HttpResponse:
    """Show the paper of one work order on a page of its own."""
    panel = paper_panel(work_order_id=work_order_id, viewer=viewer_of(request))
    return render(request, "shop/paper/page.html", {"panel": panel})


@never_cache
@require_safe
def panel(request: HttpRequest, work_order_id: int) -> HttpResponse:
    """Show the panel alone, for the page of the work order."""
    found = paper_panel(work_order_id=work_order_id, viewer=viewer_of(request))
    return render(request, "shop/paper/_panel.html", {"panel": found})


@never_cache
@require_safe
def listing(request: HttpRequest, work_order_id: int) -> HttpResponse:
    """Show how far each paper is; a list in which nothing moves asks no more."""
    return _list(request, work_order_id)


@require_POST
def ask(request: HttpRequest, work_order_id: int) -> HttpResponse:
    """Ask for the report of the work order."""
    try:
        asked = actions.request_report(
            work_order_id=work_order_id,
            acting_user=acting_user(request),
            at=timezone.now(),
        )
    except Refusal as refusal:
        if not _is_htmx(request):
            raise
        return _list(request, work_order_id, refusal=refusal)
    is_ready = asked.state == PaperState.READY.value
    return _after(request, work_order_id, notice=SAME_FACTS if is_ready else "")


@require_POST
def retry(request: HttpRequest, paper_id: int) -> HttpResponse:
    """Put a paper that could not be made back in the queue."""
    work_order_id = paper_status(
        paper_id=paper_id, viewer=viewer_of(request)
    ).work_order_id
    try:
        actions.retry(
            paper_id=paper_id, acting_user=acting_user(request), at=timezone.now()
        )
    except Refusal as refusal:
        if not _is_htmx(request):
            raise
        return _list(request, work_order_id, refusal=refusal)
    return _after(request, work_order_id)


@require_safe
def download(request: HttpRequest, paper_id: int) -> HttpResponse:
    """Hand out a finished paper."""
    return as_download(paper_file(paper_id=paper_id, viewer=viewer_of(request)))


def as_download(file: PaperFile) -> HttpResponse:
    """Return the file as a download that no cache keeps."""
    pdf = drawer.take(file.file_name, sha256=file.sha256)
    return HttpResponse(
        pdf,
        content_type="application/pdf",
        headers={
            "Content-Disposition": f'attachment; filename="{file.download_name}"',
            "Cache-Control": "private, no-store",
        },
    )


def _is_htmx(request: HttpRequest) -> bool:
    details = getattr(request, "htmx", None)
    return isinstance(details, HtmxDetails) and bool(details)


def _list(
    request: HttpRequest,
    work_order_id: int,
    *,
    refusal: Refusal | None = None,
    notice: str = "",
) -> HttpResponse:
    found = paper_panel(work_order_id=work_order_id, viewer=viewer_of(request))
    context = {"panel": found, "refusal": refusal, "notice": notice}
    return render(request, "shop/paper/_list.html", context)


def _after(
    request: HttpRequest, work_order_id: int, *, notice: str = ""
) -> HttpResponse:
    if _is_htmx(request):
        return _list(request, work_order_id, notice=notice)
    if notice:
        messages.info(request, notice)
    return redirect("shop:paper", work_order_id)


urlpatterns = [
    path("work-orders/<int:work_order_id>/paper/", page, name="paper"),
    path("work-orders/<int:work_order_id>/paper/panel/", panel, name="paper_panel"),
    path("work-orders/<int:work_order_id>/paper/list/", listing, name="paper_list"),
    path("work-orders/<int:work_order_id>/paper/ask/", ask, name="paper_request"),
    path("paper/<int:paper_id>/file/", download, name="paper_file"),
    path("paper/<int:paper_id>/retry/", retry, name="paper_retry"),
]
