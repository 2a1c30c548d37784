"""Somebody walking through the pages: each click is counted, each page is judged."""

import re
from dataclasses import dataclass, field

from playwright.sync_api import Locator, Page, expect

from diagnostics.demo import invented
from tests.journeys.reach import demand_reachable

MINUS = "\N{MINUS SIGN}"
NUMBER = re.compile(rf"[-{MINUS}]?\d+(?:\.\d+)?")
# What htmx marks while an answer is on its way.
UNDER_WAY = ".htmx-request, [data-disabled-by-htmx]"
PATIENCE_MS = 60_000


@dataclass
class Walk:
    """One person at one screen."""

    page: Page
    root: str
    clicks: int = 0
    judged: list[str] = field(default_factory=list)

    def click(self, target: Locator) -> None:
        """Click or tap, and wait for what follows."""
        self.clicks += 1
        target.click()
        self.page.wait_for_load_state("networkidle")
        expect(self.page.locator(UNDER_WAY)).to_have_count(0, timeout=PATIENCE_MS)
        self.judge()

    def judge(self) -> None:
        """Demand that everybody can use the page that is open."""
        demand_reachable(self.page)
        self.judged.append(self.page.url)

    def link(self, name: str | re.Pattern[str]) -> Locator:
        """Return the first link of that name."""
        return self.page.get_by_role("link", name=name).first

    def button(self, name: str | re.Pattern[str]) -> Locator:
        """Return the first button of that name."""
        return self.page.get_by_role("button", name=name).first

    def sign_in(self, name: str) -> None:
        """Come in by the front door."""
        self.page.goto(self.root)
        self.judge()
        self.page.locator("input[name=login]").fill(name)
        self.page.locator("input[name=password]").fill(invented.PASSWORD)
        main = self.page.locator("main")
        self.click(main.get_by_role("button", name="Sign in", exact=True))
        expect(self.page.get_by_role("heading", level=1)).to_contain_text("Good")

    def heading(self) -> Locator:
        """Return the heading of the open panel that says what comes next."""
        return self.page.locator("#next-title, #proof-title").first

    def take_shown_reading(self, form: Locator) -> None:
        """Enter in a form what the demo says that the invented bike reads."""
        shown = form.locator("xpath=preceding-sibling::*[@data-demo-reading][1]")
        text = shown.get_attribute("data-demo-reading") or ""
        word = form.get_by_role("button", name=text, exact=True)
        if word.count():
            self.click(word)
            return
        figure = NUMBER.match(text)
        assert figure, f"the demo shows {text!r}, and there is no button for it"
        form.locator("input[name=reads]").fill(figure.group().replace(MINUS, "-"))
        self.click(form.get_by_role("button", name="Record"))

    def hunt_down(self, most: int = 15) -> int:
        """Follow the advice until the bench says what it is; return the tests taken."""
        for taken in range(most):
            if "Found" in self.heading().inner_text():
                return taken
            self.take_shown_reading(self.page.locator(".bench-next form").first)
        raise AssertionError(f"not found within {most} tests")

    def prove(self) -> None:
        """Take every failed test again, then close the case."""
        forms = self.page.locator(".bench-next form[action*=retest]")
        while forms.count():
            self.take_shown_reading(forms.first)
        self.click(self.button(re.compile("close as proven")))

    def make_report(self) -> bytes:
        """Ask for the report, wait for it, and bring it home."""
        panel = self.page.locator("#paper-panel")
        self.click(panel.get_by_role("button", name="Make the report"))
        download = panel.get_by_role("link", name=re.compile("Download")).first
        expect(download).to_be_visible(timeout=PATIENCE_MS)
        self.judge()
        with self.page.expect_download() as saved:
            self.clicks += 1
            download.click()
        return saved.value.path().read_bytes()
