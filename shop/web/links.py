"""Private links: the shop makes them, the customer reads their own paper by them.

The secret is in the address once. Opening it puts the link's number into the
session and goes on to an address without a secret; every page after that looks
again whether the link still opens.
"""

from http import HTTPStatus

from django.conf import settings
from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path, reverse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_GET, require_POST, require_safe

from shop.actions import links as actions
from shop.actions.links import MadeLink
from shop.domain.refusals import Refusal
from shop.selectors.links import LinkClosed, customer_of_link, guest, link_panel
from shop.selectors.paper import customer_paper_file, customer_papers
from shop.web.attempts import too_many
from shop.web.paper import as_download
from shop.web.sign_in import client_ip
from shop.web.viewer import acting_user, viewer_of

SESSION_KEY = "customer_link_id"
KNOCKS_A_MINUTE = 20


@never_cache
@require_safe
def panel(request: HttpRequest, customer_id: int) -> HttpResponse:
    """Show a customer's links, for the customer's page."""
    return _panel(request, customer_id)


@never_cache
@require_POST
def make(request: HttpRequest, customer_id: int) -> HttpResponse:
    """Make a link and show its address, this once."""
    made = actions.make_link(
        customer_id=customer_id, acting_user=acting_user(request), at=timezone.now()
    )
    return _panel(request, customer_id, made)


@never_cache
@require_POST
def revoke(request: HttpRequest, link_id: int) -> HttpResponse:
    """Close a link at once."""
    customer_id = customer_of_link(link_id=link_id, viewer=viewer_of(request))
    actions.revoke_link(
        link_id=link_id, acting_user=acting_user(request), at=timezone.now()
    )
    return _panel(request, customer_id)


@login_not_required
@never_cache
@require_GET
def enter(request: HttpRequest, secret: str) -> HttpResponse:
    """Exchange the secret for a session and go on to an address without it."""
    if too_many(
        what="link", who=client_ip(request), limit=KNOCKS_A_MINUTE, window_s=60
    ):
        return _private(_too_many(request))
    try:
        link = actions.open_link(secret=secret, acting_user=None, at=timezone.now())
    except Refusal as refusal:
        request.session.pop(SESSION_KEY, None)
        return _private(_closed(request, refusal))
    request.session.cycle_key()
    request.session[SESSION_KEY] = link.pk
    return _private(redirect("shop:customer_papers"))


@login_not_required
@never_cache
@require_safe
def papers(request: HttpRequest) -> HttpResponse:
    """List the paper of the customer whose link was opened here."""
    try:
        visitor = guest(link_id=_link_id(request), at=timezone.now())
    except Refusal as refusal:
        return _private(_closed(request, refusal))
    found = customer_papers(customer_id=visitor.customer_id)
    context = {"guest": visitor, "papers": found}
    return _private(render(request, "shop/links/papers.html", context))


@login_not_required
@require_safe
def download(request: HttpRequest, paper_id: int) -> HttpResponse:
    """Hand out one of the customer's own papers."""
    try:
        visitor = guest(link_id=_link_id(request), at=timezone.now())
        file = customer_paper_file(paper_id=paper_id, customer_id=visitor.customer_id)
        return _private(as_download(file))
    except Refusal as refusal:
        return _private(_closed(request, refusal))


@login_not_required
@never_cache
@require_POST
def leave(request: HttpRequest) -> HttpResponse:
    """Forget the link in this browser."""
    request.session.pop(SESSION_KEY, None)
    return _private(render(request, "shop/links/left.html"))


def _link_id(request: HttpRequest) -> int | None:
    found = request.session.get(SESSION_KEY)
    return found if isinstance(found, int) else None


def _panel(
    request: HttpRequest, customer_id: int, made: MadeLink | None = None
) -> HttpResponse:
    found = link_panel(
        customer_id=customer_id, viewer=viewer_of(request), at=timezone.now()
    )
    context = {"links": found, "address": _address(made), "made": made}
    is_part = bool(getattr(request, "htmx", False))
    page = "shop/links/_panel.html" if is_part else "shop/links/page.html"
    return render(request, page, context)


def _address(made: MadeLink | None) -> str:
    if made is None:
        return ""
    return f"{settings.PUBLIC_URL}{reverse('shop:link_enter', args=[made.secret])}"


def _closed(request: HttpRequest, refusal: Refusal) -> HttpResponse:
    status = (
        HTTPStatus.GONE if isinstance(refusal, LinkClosed) else HTTPStatus.NOT_FOUND
    )
    return render(
        request, "shop/links/closed.html", {"refusal": refusal}, status=status
    )


def _too_many(request: HttpRequest) -> HttpResponse:
    refusal = Refusal(
        "too-many-attempts",
        "Too many links were tried from your address. Wait a minute, then try again.",
    )
    response = render(
        request,
        "shop/links/closed.html",
        {"refusal": refusal},
        status=HTTPStatus.TOO_MANY_REQUESTS,
    )
    response.headers["Retry-After"] = "60"
    return response


def _private(response: HttpResponse) -> HttpResponse:
    """Keep the page out of caches, referrers and search engines."""
    response.headers["Cache-Control"] = "private, no-store"
    response.headers["Referrer-Policy"] = "no-referrer"
    response.headers["X-Robots-Tag"] = "noindex, nofollow"
    return response


urlpatterns = [
    path("customers/<int:customer_id>/links/", panel, name="links"),
    path("customers/<int:customer_id>/links/make/", make, name="link_make"),
    path("links/<int:link_id>/revoke/", revoke, name="link_revoke"),
    path("link/<str:secret>/", enter, name="link_enter"),
    path("my-paper/", papers, name="customer_papers"),
    path("my-paper/<int:paper_id>/file/", download, name="customer_paper_file"),
    path("my-paper/leave/", leave, name="link_leave"),
]
