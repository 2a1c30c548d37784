"""A newcomer finishes the demo's open case, with nothing but what the screen says."""

import re
import sys
import time

import pytest
from playwright.sync_api import Page, expect

from diagnostics.demo import invented
from tests.journeys.paper import text_of
from tests.journeys.service import Service
from tests.journeys.walk import Walk

MINUTES_AT_MOST = 5
# What a person needs to read a page and decide, beyond what the machine needs.
SECONDS_TO_DECIDE = 6
CLICKS_AT_MOST = 40


@pytest.mark.parametrize("page", [(390, 844)], indirect=True, ids=["phone"])
def test_a_newcomer_finishes_the_open_case_in_five_minutes(
    page: Page, small_shop: Service, capsys: pytest.CaptureFixture[str]
) -> None:
    walk = Walk(page, small_shop.url)
    begun = time.monotonic()
    walk.sign_in(invented.TECHNICIAN)
    walk.click(walk.link(re.compile(r"Whimbrel 500 \(1974\)")))
    walk.click(walk.link("Headlamp dead, main and dip"))
    expect(walk.heading()).to_contain_text("Next test")
    tests = walk.hunt_down()
    walk.click(walk.link("Record the repair"))
    page.get_by_label("What was done").fill("Wire broken inside its sleeve; renewed.")
    walk.click(walk.button("Record the repair"))
    walk.prove()
    walk.click(walk.link(re.compile("^WO-")))
    report = text_of(walk.make_report())
    machine_s = time.monotonic() - begun
    assert "Wire broken inside its sleeve; renewed." in report
    assert tests >= 1
    assert walk.clicks <= CLICKS_AT_MOST
    with capsys.disabled():
        sys.stdout.write(
            f" ({walk.clicks} clicks, {tests} tests, {machine_s:.0f} s of the machine) "
        )
    assert machine_s + walk.clicks * SECONDS_TO_DECIDE < MINUTES_AT_MOST * 60
