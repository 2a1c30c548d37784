import pytest
from django.core.handlers.wsgi import WSGIRequest
from django.test import RequestFactory
from hypothesis import given
from hypothesis import strategies as st

from shop.selectors.windows import Listing, Window
from shop.web.lists import PAGE_SIZE, pager, search_text, window_of
from shop.web.numbers import number_in_query


def asked(**query: str) -> WSGIRequest:
    return RequestFactory().get("/", query)


def listing_of(*, page: int) -> Listing[object]:
    return Listing(rows=(), total=60, window=Window.of_page(page, size=PAGE_SIZE))


@pytest.mark.parametrize(
    ("page", "offset"),
    [("", 0), ("1", 0), ("3", 2 * PAGE_SIZE), ("0", 0), ("-4", 0), ("x", 0), ("²", 0)],
)
def test_the_wanted_page_or_the_first(page: str, offset: int) -> None:
    assert window_of(asked(page=page)).offset == offset


@given(st.text(max_size=40))
def test_no_text_in_the_address_breaks_a_list(text: str) -> None:
    request = asked(page=text, q=text, owner=text)
    assert window_of(request).offset >= 0
    assert "\x00" not in search_text(request)
    assert len(search_text(request)) <= 100
    found = number_in_query(request, "owner")
    assert found is None or found >= 0


def test_the_way_to_other_pages_keeps_search_and_filters() -> None:
    found = pager(
        listing_of(page=2),
        q="red & black",
        state="",
    )
    assert (found.number, found.pages, found.query) == (2, 3, "q=red+%26+black")
    assert (found.has_previous, found.previous) == (True, 1)
    assert (found.has_next, found.next) == (True, 3)


def test_past_the_end_the_way_back_leads_to_the_last_page() -> None:
    found = pager(listing_of(page=9))
    assert (found.has_next, found.previous) == (False, 3)
