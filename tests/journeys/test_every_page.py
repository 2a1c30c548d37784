"""Every page that the owner can reach by a link is one that everybody can use."""

import re
import sys

import pytest
from playwright.sync_api import Page

from diagnostics.demo import invented
from tests.journeys.reach import shuts_out
from tests.journeys.service import Service
from tests.journeys.walk import Walk

# What leaves the shop's pages, hands out a file, or is another program's page.
ELSEWHERE = re.compile(
    r"/sign-out|/logout|/admin|/static|/link/|/theme/|/api/docs|file/?$"
)
# One page for each kind of address: rows differ by their number or their segment.
VARIES = re.compile(r"\d+|(?<=/why/)[^/]+")
FEWEST, MOST = 70, 140


def linked(page: Page) -> list[str]:
    """Return where the links of a page lead within the shop."""
    hrefs: list[str] = page.eval_on_selector_all(
        "a[href]", "links => links.map((link) => link.getAttribute('href'))"
    )
    paths = [re.split(r"[?#]", href)[0] for href in hrefs]
    return [p for p in paths if p.startswith("/") and not ELSEWHERE.search(p)]


def is_page(page: Page, address: str) -> bool:
    """Open an address; return whether it is a page and not a file."""
    answer = page.request.head(address)
    if "text/html" not in answer.headers.get("content-type", ""):
        return False
    page.goto(address)
    return True


@pytest.mark.parametrize("page", [(390, 844)], indirect=True, ids=["phone"])
def test_every_page_that_a_link_leads_to_can_be_used_by_everybody(
    page: Page, small_shop: Service, capsys: pytest.CaptureFixture[str]
) -> None:
    Walk(page, small_shop.url).sign_in(invented.OWNER)
    waiting, met = ["/", "/work-orders/2/"], set[str]()
    judged, complaints = list[str](), list[str]()
    while waiting and len(judged) < MOST:
        path = waiting.pop(0)
        kind = VARIES.sub("N", path)
        if kind in met:
            continue
        met.add(kind)
        if not is_page(page, f"{small_shop.url}{path}"):
            continue
        complaints += [f"{path}: {what}" for what in shuts_out(page)]
        judged.append(path)
        waiting += linked(page)
    with capsys.disabled():
        sys.stdout.write(f" ({len(judged)} pages) ")
    assert complaints == []
    assert len(judged) >= FEWEST
