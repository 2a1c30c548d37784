"""The one search box: its page, and the hits that come while somebody types."""

from dataclasses import dataclass
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path, reverse
from django.views.decorators.http import require_safe

from shop.domain.roles import Act
from shop.selectors.search import (
    Hit,
    HitGroup,
    SearchResults,
    search,
    searched_noun,
)
from shop.web.lists import search_text
from shop.web.viewer import demand_act

HITS_IN_BOX = 4
HITS_ON_PAGE = 20


@dataclass(frozen=True, slots=True)
class HitLink:
    """A hit and where it leads."""

    title: str
    detail: str
    href: str
    is_exact: bool


@dataclass(frozen=True, slots=True)
class GroupLinks:
    """The hits of one kind, and the list that has them all."""

    kind: str
    label: str
    hits: tuple[HitLink, ...]
    more_href: str


@require_safe
def page(request: HttpRequest) -> HttpResponse:
    """Show everything found; an exact number alone is opened at once."""
    viewer = demand_act(request, Act.SEE_SHOP)
    found = search(text=search_text(request), viewer=viewer, most=HITS_ON_PAGE)
    if "jump" in request.GET and found.only_exact is not None:
        return redirect(_href(found.only_exact))
    return render(request, "shop/search/page.html", _context(found))


@require_safe
def hits(request: HttpRequest) -> HttpResponse:
    """Give the first hits for the list under the box."""
    viewer = demand_act(request, Act.SEE_SHOP)
    found = search(text=search_text(request), viewer=viewer, most=HITS_IN_BOX)
    return render(request, "shop/search/hits.html", _context(found))


def _context(found: SearchResults) -> dict[str, object]:
    return {
        "wanted": found.text,
        "is_too_short": found.is_too_short,
        "groups": [_links(group, found.text) for group in found.groups],
        "all_href": f"{reverse('shop:search')}?{urlencode({'q': found.text})}",
    }


def _links(group: HitGroup, text: str) -> GroupLinks:
    list_name = searched_noun(group.kind).list_url_name
    more = ""
    if group.has_more and list_name:
        more = f"{reverse(list_name)}?{urlencode({'q': text})}"
    return GroupLinks(
        kind=group.kind,
        label=group.label,
        hits=tuple(
            HitLink(hit.title, hit.detail, _href(hit), hit.is_exact)
            for hit in group.hits
        ),
        more_href=more,
    )


def _href(hit: Hit) -> str:
    return reverse(searched_noun(hit.kind).url_name, args=[hit.page_id])


urlpatterns = [
    path("find/", page, name="search"),
    path("find/hits/", hits, name="search_hits"),
]
