"""The proof of a case's repair as it stands."""

from dataclasses import dataclass
from functools import partial

from diagnostics.engine import healthy, loom_of
from diagnostics.models import Case, Finding
from diagnostics.retests import Retest, retests
from diagnostics.selectors.findings import FindingView
from diagnostics.words import reading_words


@dataclass(frozen=True, kw_only=True)
class RetestView:
    """One failed finding, what it should read now, and what it did."""

    finding: FindingView
    healthy: str
    again: int | None
    again_reading: str
    good: bool | None
    result: str


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
    return tuple(_view(item, by_id[item.finding_id]) for item in retests_of(case))


def _view(item: Retest, finding: FindingView) -> RetestView:
    reading = reading_words(finding.tool, item.again_reads) if item.again_reads else ""
    return RetestView(
        finding=finding,
        healthy=item.healthy,
        again=item.again,
        again_reading=reading,
        good=item.good,
        result=_RESULTS[item.good],
    )


_RESULTS = {
    None: "Not taken again yet",
    True: "Good: reads as a healthy loom does",
    False: "Still bad: not as a healthy loom reads",
}
