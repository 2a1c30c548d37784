"""Whether a page can be used by everybody: axe-core, and targets big enough."""

from dataclasses import dataclass

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

SERIOUS = {"serious", "critical"}
STANDARD = {"wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"}
TARGET_PX = 44

_SMALL_TARGETS = """
(least) => [...document.querySelectorAll(
    'button, select, textarea, summary, [role=button], a.button,'
    + 'input:not([type=hidden]):not([type=checkbox]):not([type=radio])'
  )].filter((node) => node.checkVisibility())
    .map((node) => [node, node.getBoundingClientRect()])
    .filter(([, box]) => box.height > 1 && (box.height < least - 0.5 || box.width < 24))
    .map(([node, box]) => node.outerHTML.slice(0, 90) + ' is '
      + Math.round(box.width) + ' x ' + Math.round(box.height))
"""
_OVERFLOW = """
() => document.documentElement.scrollWidth - document.documentElement.clientWidth
"""


@dataclass(frozen=True)
class Finding:
    """One thing that axe-core holds against a page."""

    rule: str
    impact: str
    where: str


def held_against(page: Page) -> list[Finding]:
    """Return what axe-core finds serious, and all that breaks WCAG 2.2 A or AA."""
    results = Axe().run(page)
    return [
        Finding(violation["id"], violation["impact"], node["html"][:120])
        for violation in results.response["violations"]
        if violation["impact"] in SERIOUS or STANDARD.intersection(violation["tags"])
        for node in violation["nodes"]
    ]


def small_targets(page: Page) -> list[str]:
    """Return the controls that a thumb could miss."""
    found: list[str] = page.evaluate(_SMALL_TARGETS, TARGET_PX)
    return found


def shuts_out(page: Page) -> list[str]:
    """Return all that would keep somebody from using the page as it stands."""
    over = page.evaluate(_OVERFLOW)
    return [
        *(str(finding) for finding in held_against(page)),
        *small_targets(page),
        *([f"scrolls {over} px sideways"] if over > 0 else []),
    ]


def demand_reachable(page: Page) -> None:
    """Fail where somebody would be shut out of the page as it stands."""
    assert shuts_out(page) == [], page.url
