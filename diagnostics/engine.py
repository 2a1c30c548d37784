"""The engine as the bench uses it: looms by digest, and what findings lead to."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from threading import Thread
from typing import Any

import harness
from diagnostics.convert import (
    FindingEntry,
    engine_finding,
    engine_id,
    engine_reading,
    where_of,
)
from diagnostics.experience import Experience, experience_of
from diagnostics.models import Finding, HarnessFile
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
    advice: list[dict[str, Any]]
    conflict: dict[str, Any] | None
    isolated: dict[str, Any] | None


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


@lru_cache(maxsize=16)
def _priors(h: harness.Harness, known: Experience) -> harness.priors.Priors:
    return harness.priors.Priors.of(h, learned=known.learned)


@lru_cache(maxsize=64)
def warm_up(h: harness.Harness) -> Thread:
    """Work out in the background, once, what the first tap would wait for."""
    thread = Thread(target=harness.prepare, args=(h,), daemon=True)
    thread.start()
    return thread


def conclusions(
    h: harness.Harness,
    *,
    standing: Sequence[Finding],
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
    case = harness.Case(h, priors=_priors(h, experience()).rates)
    for finding in standing:
        case.add(engine_finding(finding_id=engine_id(finding.sequence), entry=finding))
    if not new:
        return [_drawn(case, advise=TESTS_SHOWN)]
    drawn = []
    for place, (sequence, entry) in enumerate(new, start=1):
        try:
            case.add(engine_finding(finding_id=engine_id(sequence), entry=entry))
        except harness.HarnessError as error:
            raise impossible(error, field=None) from error
        drawn.append(_drawn(case, advise=TESTS_SHOWN if place == len(new) else 0))
    return drawn


def _drawn(case: harness.Case, *, advise: int) -> Conclusion:
    return Conclusion(
        faults=case.faults(limit=FAULTS_SHOWN),
        segments={name: _kept(said) for name, said in case.segments().items()},
        advice=case.advise(limit=advise) if advise else [],
        conflict=case.conflict(),
        isolated=case.isolated() if advise else None,
    )


def _kept(said: dict[str, Any]) -> dict[str, Any]:
    # The engine's sentence repeats every test; the page can say it from the rest.
    return {key: said[key] for key in _KEPT}


_KEPT = ("verdict", "probability", "proof", "stretch", "proven_amps")


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
