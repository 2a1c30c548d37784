"""From the complaint at the counter to the customer's paper, on the large set-up.

PostgreSQL, Redis, a Celery worker and a real browser, at phone and at desk width; at
each stop axe-core has its say.
"""

import re
from collections import Counter

import pytest
from playwright.sync_api import Page, expect

import harness
from diagnostics.demo import invented
from diagnostics.demo.meter import meter_of
from diagnostics.words import capital
from tests.journeys.paper import text_of
from tests.journeys.service import Service
from tests.journeys.walk import Walk

pytestmark = [pytest.mark.postgres, pytest.mark.redis]

WIDTHS = [(390, 844), (1280, 900)]
BIKE = invented.BIKES[invented.BOOKED_IN]
COMPLAINT = "Brake light stays dark when I pull the lever."


@pytest.mark.parametrize("page", WIDTHS, indirect=True, ids=["phone", "desk"])
def test_a_complaint_becomes_a_proven_repair_and_a_paper(
    page: Page, large_shop: Service
) -> None:
    counter = Walk(page, large_shop.url)
    counter.sign_in(invented.FRONT_DESK)
    label = _book_in(counter)
    _sign_out(counter)

    bench = Walk(page, large_shop.url)
    bench.sign_in(invented.TECHNICIAN)
    page.goto(f"{large_shop.url}/work-orders/?q={label}")
    bench.click(bench.link(re.compile(label)))
    bench.click(bench.button("Start work"))
    bench.click(bench.link("Open a case"))
    page.get_by_label("What does not work?").fill("Stop lamp dead from the lever")
    page.get_by_label(re.compile("Whimbrel 500")).check()
    bench.click(bench.button(re.compile("[Oo]pen")))
    _complain(bench)
    bench.hunt_down()
    bench.click(bench.link("Record the repair"))
    _repair(bench)
    bench.prove()
    bench.click(bench.link(re.compile(f"^{label}")))
    report = text_of(bench.make_report())

    assert COMPLAINT in report
    assert BIKE.details.frame_number in report
    assert "Renewed the wire from the brake lever." in report
    assert "Page 1 of" in report


def _book_in(counter: Walk) -> str:
    page = counter.page
    page.goto(f"{counter.root}/bikes/?q={BIKE.details.registration}")
    counter.click(counter.link(re.compile(r"Whimbrel 500 \(1976\)")))
    counter.click(counter.link("Book in"))
    page.get_by_label("Complaint").fill(COMPLAINT)
    page.get_by_label("Agreed to spend").fill("250")
    page.get_by_label("Agreed by").fill(invented.MARIGOLD)
    counter.click(counter.button("Book in"))
    found = re.search(r"WO-\d+", page.get_by_role("heading", level=1).inner_text())
    assert found, page.url
    return found.group()


def _sign_out(walk: Walk) -> None:
    menu = walk.page.get_by_role("button", name="Menu")
    if menu.is_visible():
        walk.click(menu)
    walk.click(walk.page.get_by_text("Sign out").first)
    confirm = walk.page.locator("main").get_by_role("button", name="Sign out")
    if confirm.count():
        walk.click(confirm)


def _complain(bench: Walk) -> None:
    """Say of every consumer, switches set as told, what the invented bike's does."""
    page = bench.page
    meter = meter_of(invented.BOOKED_IN, mended=False)
    for asked, eye in zip(harness.complaints(meter.h), meter.complaint(), strict=True):
        rig = page.get_by_role("region", name=capital(asked["rig_words"]), exact=True)
        consumer = rig.get_by_role("group", name=capital(asked["name"]), exact=True)
        consumer.get_by_label(eye.reads.capitalize(), exact=True).check()
    said = Counter(eye.reads for eye in meter.complaint())
    for word, times in said.items():
        checked = page.locator(f"input[type=radio][value={word}]:checked")
        expect(checked).to_have_count(times)
    bench.click(bench.button("Take the complaint down"))
    expect(page.locator("#next-title")).to_be_visible()


def _repair(bench: Walk) -> None:
    page = bench.page
    page.get_by_label("What was done").fill("Renewed the wire from the brake lever.")
    bench.click(bench.button("Record the repair"))
