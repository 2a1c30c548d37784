"""The engine as the bench uses it: looms by digest, and what findings lead to."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from threading import Thread
from typing import Any, Protocol

import harness
from diagnostics.convert import (
    FindingEntry,
    Reading,
    engine_finding,
    engine_id,
    engine_reading,
    where_of,
)
from diagnostics.experience import Experience, experience_of
from diagnostics.kept_hunts import KeptHunts, try_out
from diagnostics.labour_cost import labour_cost
from diagnostics.models import HarnessFile
from diagnostics.retests import Healthy, Taken
from diagnostics.selectors.confirmed_repairs import ConfirmedRepair, confirmed_repairs
from diagnostics.words import reading_words
from shop.domain.refusals import Refusal

FAULTS_SHOWN = 6
TESTS_SHOWN = 5


@dataclass(frozen=True, kw_only=True)
class Conclusion:
    """What the engine concludes at one step; plain data, as it is stored."""

    faults: list[dict[str, Any]]
    segments: dict[str, dict[str, Any]]
    conflict: dict[str, Any] | None
    advice: list[dict[str, Any]] = field(default_factory=list)
    isolated: dict[str, Any] | None = None
    confirming: dict[str, Any] | None = None
    stopping: dict[str, Any] | None = None


class StandingFinding(Reading, Protocol):
    """A finding that counts; a row has all of it, and so has its view."""

    @property
    def sequence(self) -> int:
        """Its number in the case."""


def loom_of(sha256: str) -> harness.Harness:
    """Return the harness of a library file, loaded once in this process."""
    return _loaded(sha256)


@lru_cache(maxsize=64)
def _loaded(sha256: str) -> harness.Harness:
    # A digest names its text for good, so the cache can never be stale.
    file = HarnessFile.objects.with_digest(sha256).get()
    return harness.loads(file.text, name=str(file))


def experience() -> Experience:
    """Return what the shop's confirmed repairs have taught so far."""
    return _experience(confirmed_repairs())


# Kept by the repairs themselves: a case proven or reopened makes other ones of them.
@lru_cache(maxsize=4)
def _experience(repairs: tuple[ConfirmedRepair, ...]) -> Experience:
    return experience_of([(loom_of(repair.sha256), repair) for repair in repairs])


_KEPT = KeptHunts()


def make_ready(
    h: harness.Harness, findings: Sequence[StandingFinding]
) -> Thread | None:
    """Think ahead in the background what the next tap would wait for.

    Returns
    -------
    Thread or None
        None where it has been thought about already.
    """
    told = _told(findings)
    if _KEPT.has(h, told):
        return None
    known = experience()

    def think() -> None:
        with _KEPT.in_hand(h, known, told) as hunt:
            advice = hunt.case.advise(limit=1)
        for finding in _ahead(advice):
            # Whoever has tapped meanwhile is not to wait for this.
            if _KEPT.has(h, told):
                try_out(h, known, [*told, finding])

    thread = Thread(target=think, daemon=True)
    thread.start()
    return thread


def _ahead(advice: Sequence[Mapping[str, Any]]) -> Iterator[dict[str, Any]]:
    """Yield the readings that the advised test may give, as findings."""
    for test in advice:
        where = {key: test[key] for key in _OF_A_TEST if key in test}
        for outcome in test["outcomes"]:
            reads = engine_reading(test["tool"], outcome["example"])
            yield {**where, "id": "ahead", "reads": reads}


_OF_A_TEST = ("rig", "tool", "probe", "clip", "device", "wire", "moving")


def conclusions(
    h: harness.Harness,
    *,
    standing: Sequence[StandingFinding],
    new: Sequence[tuple[int, FindingEntry]] = (),
) -> list[Conclusion]:
    """Return the conclusion after the standing findings and after each new one.

    The first is drawn from the standing findings alone, and only where there are no
    new ones; advice is worked out for the last only, since the others are history
    as soon as they are written. Before any finding, how likely each fault is has been
    learned from the shop's confirmed repairs.

    Raises
    ------
    Refusal
        Where a new finding is one that nobody can have taken.
    """
    with _KEPT.in_hand(h, experience(), _told(standing)) as hunt:
        if not new:
            return [_advised(hunt.case)]
        drawn = []
        for place, (sequence, entry) in enumerate(new, start=1):
            told = engine_finding(finding_id=engine_id(sequence), entry=entry)
            try:
                hunt.tell(told)
            except harness.HarnessError as error:
                raise impossible(error, field=None) from error
            is_last = place == len(new)
            drawn.append(_advised(hunt.case) if is_last else _seen(hunt.case))
    return drawn


def explanation(
    h: harness.Harness, *, standing: Sequence[StandingFinding], segment: str
) -> dict[str, Any]:
    """Return why a segment has its verdict, step by step, as plain data.

    Raises
    ------
    HarnessError
        Where the loom has no such segment.
    """
    with _KEPT.in_hand(h, experience(), _told(standing)) as hunt:
        return hunt.case.explain(segment)


def _told(standing: Sequence[StandingFinding]) -> list[dict[str, Any]]:
    return [
        engine_finding(finding_id=engine_id(finding.sequence), entry=finding)
        for finding in standing
    ]


def _seen(case: harness.Case) -> Conclusion:
    return Conclusion(
        faults=case.faults(limit=FAULTS_SHOWN),
        segments={name: _kept(said) for name, said in case.segments().items()},
        conflict=case.conflict(),
    )


def _advised(case: harness.Case) -> Conclusion:
    isolated = _isolated(case)
    return replace(
        _seen(case),
        advice=case.advise(limit=TESTS_SHOWN),
        isolated=isolated,
        confirming=case.confirming() if isolated else None,
        stopping=None if isolated else _stopping(case),
    )


def _isolated(case: harness.Case) -> dict[str, Any] | None:
    """Return what it is, in groups: one of them is bad, and as a whole."""
    said = case.isolated()
    if said is None:
        return None
    left = {
        frozenset(segment for fault in faults for segment in fault.segments)
        for faults in case.survey.suspects.alike
    }
    # The same with a companion that nobody can see is no other explanation.
    groups = sorted(sorted(g) for g in left if not any(other < g for other in left))
    named = sorted({segment for group in groups for segment in group})
    return {**said, "segments": named, "groups": groups}


def _stopping(case: harness.Case) -> dict[str, Any] | None:
    """Return stop advice in minutes, with what they cost in this shop today."""
    said, cost = case.stopping(), labour_cost()
    if said is None:
        return None
    figures = {key: said[key] for key in _OF_STOPPING}
    money = {"hourly_rate": f"{cost.hourly_rate}", "currency": cost.currency}
    return figures | money


def _kept(said: dict[str, Any]) -> dict[str, Any]:
    # The engine's sentence repeats every test; the page can say it from the rest.
    return {key: said[key] for key in _OF_A_SEGMENT}


_OF_STOPPING = ("stop", "segment", "probability", "waste", "hunt_cost")
_OF_A_SEGMENT = ("verdict", "probability", "proof", "stretch", "proven_amps")


def impossible(error: harness.HarnessError, *, field: str | None) -> Refusal:
    """Return the refusal of a finding that the engine cannot take."""
    told = " ".join(f"{p.what}; {p.mend}." for p in error.problems)
    return Refusal("finding-impossible", told[:1].upper() + told[1:], field)


def healthy(h: harness.Harness, finding: Taken) -> Healthy:
    """Return what the healthy loom would read, and whether a reading fits.

    A word must be the same. A meter may be off by a tenth of a volt and a twentieth
    of the reading (an ohmmeter by half an ohm and a fifth, a clamp by a tenth of an
    ampere and a tenth): battery state, contact of the probes and the meter itself;
    common practice, no source.
    """
    test = {
        "rig": dict(finding.rig),
        "tool": finding.tool,
        **where_of(finding),
    }
    try:
        shown = harness.shown(h, test)
    except harness.SingularNetwork:
        return Healthy(words="no steady reading; not judged", fits=True)
    reads = engine_reading(finding.tool, finding.reads)
    return Healthy(
        words=reading_words(finding.tool, _plain(shown)),
        fits=_alike(finding.tool, reads, shown),
    )


_SLACK = {"voltmeter": (0.1, 0.05), "ohmmeter": (0.5, 0.2), "ammeter": (0.1, 0.1)}


def _alike(tool: str, reads: str | float, shown: str | float) -> bool:
    if isinstance(reads, str) or isinstance(shown, str):
        return reads == shown
    fixed, share = _SLACK[tool]
    return abs(reads - shown) <= fixed + share * abs(shown)


def _plain(shown: str | float) -> str:
    return shown if isinstance(shown, str) else f"{shown:.2f}"
