"""What was believed of a loom at each step, as it was concluded on the day."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

import harness
from diagnostics.convert import sequence_of
from diagnostics.models import Belief
from diagnostics.selectors.advice import AdvisedTest, advised_tests
from diagnostics.selectors.findings import where_words
from diagnostics.selectors.segments import StretchView, percent_words, stretches
from diagnostics.words import capital, fault_words, reading_words, segment_words


@dataclass(frozen=True, kw_only=True)
class FaultView:
    """One explanation of everything read so far."""

    label: str
    percent: str
    probability: float
    segments: tuple[str, ...]
    mode: str


@dataclass(frozen=True, kw_only=True)
class ConflictView:
    """Findings that cannot all be true of this drawing."""

    findings: tuple[int, ...]
    words: str


@dataclass(frozen=True, kw_only=True)
class IsolatedView:
    """The suspects that no test can tell apart, once it is one of them."""

    segments: tuple[str, ...]
    labels: tuple[str, ...]
    percent: str


@dataclass(frozen=True, kw_only=True)
class BeliefView:
    """One step of the hunt: what happened, and what followed from it."""

    step: int
    cause: str
    held_at: datetime
    engine: str
    faults: tuple[FaultView, ...]
    stretches: tuple[StretchView, ...]
    tests: tuple[AdvisedTest, ...]
    conflict: ConflictView | None
    isolated: IsolatedView | None


@dataclass(frozen=True, kw_only=True)
class BeliefStep:
    """One step in the list of them."""

    step: int
    cause: str
    held_at: datetime
    leading: str
    leading_percent: str


def latest_belief(*, case_id: int, h: harness.Harness) -> BeliefView:
    """Return what is believed now."""
    row = Belief.objects.of_case(case_id).with_causes().latest_first().first()
    if row is None:
        raise LookupError(f"case {case_id} was opened without a belief")
    return belief_view(row, h)


def belief_before_repair(*, case_id: int, h: harness.Harness) -> BeliefView:
    """Return what was believed when the latest repair was begun."""
    rows = Belief.objects.of_case(case_id).with_causes().latest_first()
    repairs = [row.step for row in rows.without_segments() if row.repair]
    return belief_view(rows.before_step(repairs[0])[0], h)


def belief_view(row: Belief, h: harness.Harness) -> BeliefView:
    """Return a stored belief in words."""
    return BeliefView(
        step=row.step,
        cause=cause_words(h, row),
        held_at=row.held_at,
        engine=row.engine,
        faults=tuple(fault_view(h, said) for said in row.faults),
        stretches=stretches(h=h, segments=row.segments),
        tests=advised_tests(h=h, advice=row.advice),
        conflict=_conflict(row.conflict),
        isolated=_isolated(h, row.isolated),
    )


def belief_step(row: Belief, h: harness.Harness) -> BeliefStep:
    """Return a step for the list: what happened, and the leading suspicion then."""
    first = fault_view(h, row.faults[0]) if row.faults else None
    return BeliefStep(
        step=row.step,
        cause=cause_words(h, row),
        held_at=row.held_at,
        leading=first.label if first else "",
        leading_percent=first.percent if first else "",
    )


def fault_view(h: harness.Harness, said: dict[str, Any]) -> FaultView:
    """Return one explanation in words."""
    faults = said["faults"]
    modes = {mode for _, mode in faults}
    return FaultView(
        label=fault_words(h, faults, said=said.get("words", "")),
        percent=percent_words(said["probability"]),
        probability=said["probability"],
        segments=tuple(segment for segment, _ in faults),
        mode=modes.pop() if len(modes) == 1 else "",
    )


def cause_words(h: harness.Harness, row: Belief) -> str:
    """Return what led to this belief."""
    if row.finding is not None:
        finding = row.finding
        reading = reading_words(finding.tool, finding.reads)
        return f"Finding {finding.sequence}. {where_words(h, finding)}: {reading}"
    if row.void is not None:
        return f"Finding {row.void.finding.sequence} voided: {row.void.reason}"
    if row.repair is not None:
        return f"Repair {row.repair.sequence}: {row.repair.done}"
    return "Case opened"


def _conflict(said: dict[str, Any] | None) -> ConflictView | None:
    if said is None:
        return None
    return ConflictView(
        findings=tuple(sequence_of(name) for name in said["findings"]),
        words=capital(said["words"]),
    )


def _isolated(h: harness.Harness, said: dict[str, Any] | None) -> IsolatedView | None:
    if said is None:
        return None
    return IsolatedView(
        segments=tuple(said["segments"]),
        labels=tuple(segment_words(h, name) for name in said["segments"]),
        percent=percent_words(said["probability"]),
    )
