"""What was believed of a loom at each step, as it was concluded on the day."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

import harness
from diagnostics.models import Belief
from diagnostics.selectors.advice import AdvisedTest, advised_test, advised_tests
from diagnostics.selectors.conflicts import ConflictView, conflict_view
from diagnostics.selectors.findings import where_words
from diagnostics.selectors.segments import StretchView, percent_words, stretches
from diagnostics.selectors.stopping import StopView, stop_view
from diagnostics.words import fault_lines, reading_words, segment_words

CONFIRMING = 80
WORTH_A_LINE = 0.01


@dataclass(frozen=True, kw_only=True)
class FaultView:
    """One explanation of everything read so far; of two faults, two lines."""

    label: str
    lines: tuple[str, ...]
    percent: str
    probability: float
    segments: tuple[str, ...]
    mode: str
    intermittent: bool


@dataclass(frozen=True, kw_only=True)
class IsolatedView:
    """What it is: one of the groups, each bad as a whole; no test tells them apart."""

    segments: tuple[str, ...]
    groups: tuple[tuple[str, ...], ...]
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
    confirming: AdvisedTest | None
    stopping: StopView | None

    @property
    def leading(self) -> tuple[FaultView, ...]:
        """The explanations that are worth a line."""
        return tuple(
            fault
            for place, fault in enumerate(self.faults)
            if place == 0 or fault.probability >= WORTH_A_LINE
        )


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
        conflict=conflict_view(h, row.conflict),
        isolated=_isolated(h, row.isolated),
        confirming=_confirming(h, row.confirming),
        stopping=stop_view(h, row.stopping),
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
    lines = fault_lines(h, faults, said=said.get("words", ""))
    return FaultView(
        label="; ".join(lines),
        lines=lines,
        percent=percent_words(said["probability"]),
        probability=said["probability"],
        segments=tuple(segment for segment, _ in faults),
        mode=modes.pop() if len(modes) == 1 else "",
        intermittent=bool(said.get("intermittent")),
    )


def cause_words(h: harness.Harness, row: Belief) -> str:
    """Return what led to this belief."""
    if row.finding is not None:
        finding = row.finding
        reading = reading_words(finding.tool, finding.reads)
        if finding.moving:
            reading += ", while the loom was moved"
        return f"Finding {finding.sequence}. {where_words(h, finding)}: {reading}"
    if row.void is not None:
        return f"Finding {row.void.finding.sequence} voided: {row.void.reason}"
    if row.repair is not None:
        return f"Repair {row.repair.sequence}: {row.repair.done}"
    return "Case opened"


def _isolated(h: harness.Harness, said: dict[str, Any] | None) -> IsolatedView | None:
    if said is None:
        return None
    groups = said.get("groups") or [[name] for name in said["segments"]]
    return IsolatedView(
        segments=tuple(said["segments"]),
        groups=tuple(
            tuple(segment_words(h, name) for name in group) for group in groups
        ),
        percent=percent_words(said["probability"]),
    )


def _confirming(h: harness.Harness, said: dict[str, Any] | None) -> AdvisedTest | None:
    if said is None:
        return None
    return advised_test(h, said, number=CONFIRMING, tag="sure")
