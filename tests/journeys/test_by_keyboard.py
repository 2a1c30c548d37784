"""A technician goes through the shop floor with the keyboard alone."""

import re

import pytest
from playwright.sync_api import Page, expect

from diagnostics.demo import invented
from tests.journeys.reach import demand_reachable
from tests.journeys.service import Service

MOST_TABS = 60


def tab_to(page: Page, name: str) -> None:
    """Press Tab until what has the focus bears a name."""
    for _ in range(MOST_TABS):
        page.keyboard.press("Tab")
        text: str = page.evaluate("document.activeElement.innerText")
        if re.search(name, text or ""):
            return
    raise AssertionError(f"{MOST_TABS} tabs do not lead to {name!r}")


@pytest.mark.parametrize("page", [(1280, 900)], indirect=True, ids=["desk"])
def test_found_clocked_off_and_looked_up_with_the_keyboard_alone(
    page: Page, small_shop: Service
) -> None:
    page.goto(small_shop.url)
    page.locator("input[name=login]").focus()
    page.keyboard.type(invented.TECHNICIAN)
    page.keyboard.press("Tab")
    page.keyboard.type(invented.PASSWORD)
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Good")

    page.keyboard.press("/")
    page.keyboard.type("sandpiper")
    expect(page.get_by_role("option").first).to_be_visible()
    demand_reachable(page)
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Sandpiper")

    page.keyboard.press("/")
    page.keyboard.type("WO-1007")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_contain_text("WO-1007")
    demand_reachable(page)

    tab_to(page, "^Stop")
    page.keyboard.press("Enter")
    expect(page.get_by_role("button", name="Stop")).to_have_count(0)
    tab_to(page, "^My day$")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("My day")
    expect(page.locator("main")).to_contain_text("New shoes fitted")
    demand_reachable(page)
