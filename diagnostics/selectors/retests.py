"""The proof of a case's repair as it stands."""

from dataclasses import dataclass
from functools import partial

import harness
from diagnostics.cautions import cautions_for
from diagnostics.engine import healthy, loom_of
from diagnostics.models import Case, Finding
from diagnostics.retests import Retest, retests
from diagnostics.selectors.findings import FindingView
from diagnostics.words import UNIT_SIGNS, kind_of, reading_words, word_choices


@dataclass(frozen=True, kw_only=True)
class RetestView:
    """One failed finding, what it should read now, and what it did."""

    finding: FindingView
    healthy: str
    again: int | None
    again_reading: str
    good: bool | None
    result: str
    words: tuple[tuple[str, str], ...]
    unit: str
    cautions: tuple[str, ...]


def retests_of(case: Case) -> tuple[Retest, ...]:
    """Return the proof that is wanted after the case's latest repair."""
    if case.repairs_made == 0:
        return ()
    standing = Finding.objects.of_case(case.pk).counted()
    judge = partial(healthy, loom_of(case.harness_file.sha256))
    return retests(list(standing), repairs_made=case.repairs_made, judge=judge)


def retest_views(
    *, case: Case, findings: tuple[FindingView, ...]
) -> tuple[RetestView, ...]:
    """Return the proof in words, with the findings it repeats."""
    by_id = {finding.finding_id: finding for finding in findings}
    h = loom_of(case.harness_file.sha256)
    return tuple(_view(h, item, by_id[item.finding_id]) for item in retests_of(case))


def _view(h: harness.Harness, item: Retest, finding: FindingView) -> RetestView:
    reading = reading_words(finding.tool, item.again_reads) if item.again_reads else ""
    return RetestView(
        finding=finding,
        healthy=item.healthy,
        again=item.again,
        again_reading=reading,
        good=item.good,
        result=_RESULTS[item.good],
        words=word_choices(finding.tool, kind_of(h, finding.device)),
        unit=UNIT_SIGNS.get(finding.tool, ""),
        cautions=cautions_for(
            tool=finding.tool, rig=finding.rig, device=finding.device, earth=h.earth
        ),
    )


_RESULTS = {
    None: "Not taken again yet",
    True: "Good: reads as a healthy loom does",
    False: "Still bad: not as a healthy loom reads",
}
