"""A window on a long list never leaves what a database can follow."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.models import Customer
from shop.selectors.customers import customer_row
from shop.selectors.windows import FARTHEST, MOST_ROWS, Listing, Window, listing
from tests.builders import CustomerFactory


@given(st.integers(), st.integers())
def test_whatever_is_asked_for_the_window_stays_in_range(
    limit: int, offset: int
) -> None:
    window = Window(limit=limit, offset=offset)
    assert 1 <= window.limit <= MOST_ROWS
    assert 0 <= window.offset <= FARTHEST


def test_pages_are_counted_from_one() -> None:
    window = Window.of_page(3, size=20)
    assert (window.limit, window.offset) == (20, 40)
    found: Listing[int] = Listing(rows=(), total=41, window=window)
    assert (found.page, found.pages) == (3, 3)
    empty: Listing[int] = Listing(rows=(), total=0, window=Window())
    assert (empty.page, empty.pages) == (1, 1)
    assert Window.of_page(-5).offset == 0


@pytest.mark.django_db
def test_the_total_counts_rows_outside_the_window_too() -> None:
    for name in "abcde":
        CustomerFactory(name=name)
    found = listing(
        Customer.objects.by_name(), window=Window(limit=2, offset=2), row=customer_row
    )
    assert [row.name for row in found.rows] == ["c", "d"]
    assert found.total == 5
