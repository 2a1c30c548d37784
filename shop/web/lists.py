"""Lists: which page is wanted, what was searched for, and the way to the next page."""

from dataclasses import dataclass
from typing import TypeVar
from urllib.parse import urlencode

from django.http import HttpRequest

from shop.selectors.windows import Listing, Window

Row = TypeVar("Row")

PAGE_SIZE = 25
_LONGEST_SEARCH = 100
_FARTHEST_PAGE = 10_000


@dataclass(frozen=True, slots=True)
class Pager:
    """What shop/partials/pager.html shows."""

    number: int
    pages: int
    total: int
    query: str

    @property
    def has_previous(self) -> bool:
        """Say whether there is a page before."""
        return self.number > 1

    @property
    def has_next(self) -> bool:
        """Say whether there is a page after."""
        return self.number < self.pages

    @property
    def previous(self) -> int:
        """Return the number of the page before, at most the last one there is."""
        return min(self.number - 1, self.pages)

    @property
    def next(self) -> int:
        """Return the number of the page after."""
        return self.number + 1


def search_text(request: HttpRequest) -> str:
    """Return what was searched for, without NUL, which no database takes."""
    return request.GET.get("q", "").replace("\x00", "").strip()[:_LONGEST_SEARCH]


def window_of(request: HttpRequest) -> Window:
    """Return the window of the wanted page; nonsense means the first."""
    raw = request.GET.get("page", "")
    is_number = raw.isascii() and raw.isdecimal() and len(raw) <= len("10000")
    number = min(int(raw), _FARTHEST_PAGE) if is_number else 1
    return Window.of_page(number, size=PAGE_SIZE)


def pager(listing: Listing[Row], **kept: str) -> Pager:
    """Return the way to the other pages, keeping search and filters."""
    return Pager(
        number=listing.page,
        pages=listing.pages,
        total=listing.total,
        query=urlencode({name: value for name, value in kept.items() if value}),
    )
