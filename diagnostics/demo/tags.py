"""For templates: what an invented bike would read, in the demo alone."""

from django import template
from django.conf import settings

from diagnostics.convert import FindingEntry
from diagnostics.demo.invented import BIKES
from diagnostics.demo.meter import meter_of
from diagnostics.selectors.advice import AdvisedTest
from diagnostics.selectors.cases import CasePage
from diagnostics.selectors.findings import FindingView
from diagnostics.words import reading_words

register = template.Library()


@register.simple_tag
def demo_reading(page: CasePage, test: AdvisedTest | FindingView) -> str:
    """Return what the invented bike shows in a test; nothing for a real bike."""
    name = _invented_bike(page.head.bike)
    if not settings.DEMO or name is None:
        return ""
    mended = any(BIKES[name].fault[0] in repair.segments for repair in page.repairs)
    read = meter_of(name, mended=mended).read(entry_for(test))
    return reading_words(read.tool, read.reads)


def _invented_bike(words: str) -> str | None:
    for name, bike in BIKES.items():
        details = bike.details
        if (
            bike.drawing
            and words == f"{details.maker} {details.model} ({details.year})"
        ):
            return name
    return None


def entry_for(test: AdvisedTest | FindingView) -> FindingEntry:
    """Return the test as an entry that still lacks its reading."""
    if isinstance(test, FindingView):
        probe, clip, wire, moving = test.probe, test.clip, test.wire, test.moving
    else:
        probe = test.probe.terminal if test.probe else ""
        clip = test.clip.terminal if test.clip else ""
        wire, moving = (test.wire.wire_id if test.wire else ""), test.moving
    return FindingEntry(
        tool=test.tool,
        reads="",
        rig=test.rig,
        probe=probe,
        clip=clip,
        device=test.device,
        wire=wire,
        moving=moving,
    )
