"""Ten years of data: every page answers in time and asks no more than at the start.

The pages are found among the addresses themselves, so that a new list or detail page is
measured without anybody thinking of it. Server time is what the process itself works:
view, queries and template, with SQLite in the same process and in memory; what other
programs on the machine take meanwhile does not count. The time by the wall is printed
beside it.
"""

import sys
from collections.abc import Iterator
from dataclasses import dataclass
from statistics import median
from time import perf_counter, process_time

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from diagnostics.models import Finding
from shop.models import (
    Bike,
    Customer,
    LabourLine,
    Part,
    StripTag,
    Supplier,
    WorkOrder,
)
from tests.benchmarks import decade
from tests.rules.test_routes import Route, all_routes

PAGE_MS = 120
SEARCH_MS = 150
TURNS = 3
ORDERS = 4000
FIRST_ORDERS = 60
# What stands in an address, and which row it is of: one that has all sorts of rows.
ROWS = {
    "work_order_id": WorkOrder,
    "bike_id": Bike,
    "customer_id": Customer,
    "part_id": Part,
    "tag_id": StripTag,
    "supplier_id": Supplier,
}
SEARCHES = ("heron", "ada fenn", "H35/001417", "WO-4321", "horn dead", "zzz nothing")


@dataclass(frozen=True)
class Look:
    """One page looked at: how long it took and how much it asked."""

    name: str
    ms: float
    wall_ms: float
    queries: int


@pytest.mark.django_db
def test_after_ten_years_every_page_is_answered_within_the_bar(
    capsys: pytest.CaptureFixture[str],
) -> None:
    shop = decade.open_shop(seed=1904)
    decade.grow(shop, orders=FIRST_ORDERS, of=ORDERS)
    client = Client()
    client.force_login(shop.owner)
    at_first = {name: _queries(client, address) for name, address in _pages(client)}
    begun = perf_counter()
    decade.grow(shop, orders=ORDERS - FIRST_ORDERS, of=ORDERS)
    filled_s = perf_counter() - begun
    _demand_a_decade()
    looks = [_look(client, name, address) for name, address in _pages(client)]
    searches = [
        _look(client, f"search {words!r}", f"{reverse('shop:search')}?q={words}")
        for words in SEARCHES
    ]
    with capsys.disabled():
        sys.stdout.write(_told(looks + searches, filled_s, at_first))
    assert {look.name for look in looks} >= {
        "shop:work_orders",
        "shop:work_order",
        "shop:customers",
        "shop:bike_timeline",
    }
    assert [look for look in looks if look.ms >= PAGE_MS] == []
    assert [look for look in searches if look.ms >= SEARCH_MS] == []
    grown = [
        (look.name, at_first[look.name], look.queries)
        for look in looks
        if look.queries > at_first[look.name]
    ]
    assert grown == []


def _demand_a_decade() -> None:
    assert WorkOrder.objects.count() == 4000
    assert LabourLine.objects.count() == 60_000
    assert StripTag.objects.count() == 40_000
    assert Finding.objects.count() == 50_000


def _pages(client: Client) -> Iterator[tuple[str, str]]:
    """Yield name and address of every page that shows something as it is."""
    for route in all_routes():
        space = route.name.partition(":")[0]
        if space not in {"shop", "diagnostics"}:
            continue
        address = _address(route)
        if address is None:
            continue
        answer = client.get(address)
        kind = answer.headers.get("Content-Type", "")
        if answer.status_code == 200 and kind.startswith("text/html"):
            yield route.name, address


def _address(route: Route) -> str | None:
    if not set(route.arguments) <= set(ROWS):
        return None
    arguments = {}
    for name in route.arguments:
        row = ROWS[name]._default_manager.order_by("pk").first()
        if row is None:
            return None
        arguments[name] = row.pk
    return reverse(route.name, kwargs=arguments)


def _queries(client: Client, address: str) -> int:
    with CaptureQueriesContext(connection) as asked:
        client.get(address)
    return len(asked)


def _look(client: Client, name: str, address: str) -> Look:
    took, passed = [], []
    for _ in range(TURNS):
        begun, by_the_wall = process_time(), perf_counter()
        answer = client.get(address)
        took.append(1000 * (process_time() - begun))
        passed.append(1000 * (perf_counter() - by_the_wall))
        assert answer.status_code == 200
    queries = _queries(client, address)
    return Look(name, median(took), median(passed), queries)


def _told(looks: list[Look], filled_s: float, at_first: dict[str, int]) -> str:
    lines = [
        f"\nTen years written in {filled_s:.0f} s; page: ms (wall), queries (at first)"
    ]
    lines += [
        f"  {look.name:44} {look.ms:5.0f} ({look.wall_ms:.0f}) {look.queries:4} "
        f"({at_first.get(look.name, '')})"
        for look in sorted(looks, key=lambda look: -look.ms)
    ]
    return "\n".join([*lines, ""])
