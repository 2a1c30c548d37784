"""A case as the bench shows it."""

from dataclasses import dataclass
from datetime import datetime

import harness
from diagnostics.engine import experience, loom_of
from diagnostics.lifecycle import STATE_LABELS, UNFINISHED, CaseState, Origin
from diagnostics.models import Belief, Case, Finding, Repair
from diagnostics.selectors.beliefs import (
    BeliefStep,
    BeliefView,
    belief_before_repair,
    belief_step,
    belief_view,
    latest_belief,
)
from diagnostics.selectors.findings import (
    FindingView,
    complaint_words,
    finding_view,
    finding_views,
)
from diagnostics.selectors.retests import RetestView, retest_views
from diagnostics.words import MODE_LABELS, segment_words
from shop.domain.lifecycle import ENDED, State
from shop.domain.refusals import NotFound
from shop.domain.roles import Act, Viewer, demand
from shop.selectors.windows import FIRST_ROWS, MOST_ROWS, Listing, Window, listing


@dataclass(frozen=True, kw_only=True)
class CaseHead:
    """What stands at the top of every page of a case."""

    case_id: int
    title: str
    state: str
    state_label: str
    work_order_id: int
    work_order: str
    complaint: str
    bike: str
    harness_file_id: int
    harness_sha256: str
    harness: str
    nominal_volts: int
    earth: str
    opened_at: datetime
    opened_by: str
    step: int
    findings_taken: int
    repairs_made: int
    is_open: bool
    is_unfinished: bool
    may_work: bool


@dataclass(frozen=True, kw_only=True)
class RepairView:
    """One repair in words."""

    sequence: int
    step: int
    done: str
    segments: tuple[str, ...]
    segment_labels: tuple[str, ...]
    mode: str
    mode_label: str
    parts: str
    done_by: str
    done_at: datetime


@dataclass(frozen=True, kw_only=True)
class CasePage:
    """Everything that the bench page shows of a case.

    While a hunt is open, `belief` is the present one; once a repair is recorded, it is
    the one that led to the repair. `learned_repairs` counts the shop's confirmed
    repairs that the likelihood of each fault is learned from.
    """

    head: CaseHead
    belief: BeliefView
    findings: tuple[FindingView, ...]
    complaint_words: str
    repairs: tuple[RepairView, ...]
    retests: tuple[RetestView, ...]
    proof_is_whole: bool
    proof_failed: bool
    learned_repairs: int

    @property
    def complaint(self) -> tuple[FindingView, ...]:
        """What was seen or heard before any test."""
        return tuple(f for f in self.findings if f.origin == Origin.COMPLAINT)

    @property
    def standing(self) -> tuple[FindingView, ...]:
        """What the belief shown rests on: what counts, of the loom as it was then."""
        repairs = sum(repair.step <= self.belief.step for repair in self.repairs)
        return tuple(
            finding
            for finding in self.findings
            if finding.void is None
            and finding.repairs_before == repairs
            and finding.step <= self.belief.step
        )

    @property
    def tests(self) -> tuple[FindingView, ...]:
        """What was measured or looked at since."""
        return tuple(f for f in self.findings if f.origin != Origin.COMPLAINT)


@dataclass(frozen=True, kw_only=True)
class FindingPage:
    """One finding and the case that it belongs to."""

    head: CaseHead
    finding: FindingView


@dataclass(frozen=True, kw_only=True)
class ReplayPage:
    """One step of a case's history of belief, and all the others to go to."""

    head: CaseHead
    belief: BeliefView
    steps: tuple[BeliefStep, ...]
    before: int | None
    after: int | None


@dataclass(frozen=True, kw_only=True)
class CaseLine:
    """A case in a list."""

    case_id: int
    title: str
    state: str
    state_label: str
    bike: str
    work_order_id: int
    work_order: str
    opened_at: datetime
    findings_taken: int
    is_unfinished: bool


def case_page(*, case_id: int, viewer: Viewer) -> CasePage:
    """Return a case with its present belief.

    Raises
    ------
    NotFound
        There is no such case.
    """
    case = _case(case_id, viewer)
    h = loom_of(case.harness_file.sha256)
    findings = finding_views(case_id=case_id, h=h)
    proof = retest_views(case=case, findings=findings)
    return CasePage(
        head=_head(case, viewer),
        belief=_belief_shown(case, h),
        findings=findings,
        complaint_words=complaint_words(findings),
        repairs=repair_views(case_id=case_id, h=h),
        retests=proof,
        proof_is_whole=bool(proof) and all(item.good for item in proof),
        proof_failed=any(item.good is False for item in proof),
        learned_repairs=experience().repairs,
    )


def finding_page(*, finding_id: int, viewer: Viewer) -> FindingPage:
    """Return one finding with the case that it belongs to.

    Raises
    ------
    NotFound
        There is no such finding.
    """
    demand(viewer.role, Act.SEE_SHOP)
    row = Finding.objects.with_people().filter(pk=finding_id).first()
    if row is None:
        raise NotFound("finding-not-found", "There is no such finding.", "finding_id")
    case = _case(row.case_id, viewer)
    h = loom_of(case.harness_file.sha256)
    return FindingPage(head=_head(case, viewer), finding=finding_view(row, h))


def case_head(*, case_id: int, viewer: Viewer) -> CaseHead:
    """Return what stands at the top of a case's pages.

    Raises
    ------
    NotFound
        There is no such case.
    """
    return _head(_case(case_id, viewer), viewer)


def case_lines(*, viewer: Viewer, window: Window = FIRST_ROWS) -> tuple[CaseLine, ...]:
    """Return the shop's cases in the window, the newest first."""
    demand(viewer.role, Act.SEE_SHOP)
    rows = Case.objects.with_surroundings().newest_first()
    last = window.offset + window.limit
    return tuple(_line(row) for row in rows[window.offset : last])


def unfinished_cases(*, viewer: Viewer) -> tuple[CaseLine, ...]:
    """Return the cases that still want a repair or its proof, the newest first."""
    demand(viewer.role, Act.SEE_SHOP)
    rows = Case.objects.with_surroundings().unfinished().newest_first()
    return tuple(_line(row) for row in rows[:MOST_ROWS])


def finished_cases(*, viewer: Viewer, window: Window = FIRST_ROWS) -> Listing[CaseLine]:
    """Return the cases that want nothing more, the newest first."""
    demand(viewer.role, Act.SEE_SHOP)
    rows = Case.objects.with_surroundings().finished().newest_first()
    return listing(rows, window=window, row=_line)


def cases_of_work_order(*, work_order_id: int, viewer: Viewer) -> tuple[CaseLine, ...]:
    """Return the cases of one work order, the oldest first."""
    demand(viewer.role, Act.SEE_SHOP)
    rows = Case.objects.with_surroundings().of_work_order(work_order_id)
    return tuple(_line(row) for row in rows)


def replay_page(*, case_id: int, step: int | None, viewer: Viewer) -> ReplayPage:
    """Return what was believed at a step; None is the first.

    Raises
    ------
    NotFound
        The case or the step does not exist.
    """
    case = _case(case_id, viewer)
    h = loom_of(case.harness_file.sha256)
    rows = Belief.objects.of_case(case_id).with_causes()
    steps = tuple(belief_step(row, h) for row in rows.without_segments())
    numbers = [item.step for item in steps]
    wanted = numbers[0] if step is None else step
    if wanted not in numbers:
        raise NotFound("step-not-found", "The case has no such step.", "step")
    place = numbers.index(wanted)
    return ReplayPage(
        head=_head(case, viewer),
        belief=belief_view(rows.get(step=wanted), h),
        steps=steps,
        before=numbers[place - 1] if place else None,
        after=numbers[place + 1] if place + 1 < len(numbers) else None,
    )


def repair_views(*, case_id: int, h: harness.Harness) -> tuple[RepairView, ...]:
    """Return the repairs of a case in the order they were made."""
    rows = Repair.objects.of_case(case_id).select_related("done_by")
    return tuple(
        RepairView(
            sequence=row.sequence,
            step=row.step,
            done=row.done,
            segments=tuple(row.segments),
            segment_labels=tuple(segment_words(h, name) for name in row.segments),
            mode=row.mode,
            mode_label=MODE_LABELS.get(row.mode, ""),
            parts=row.parts,
            done_by=row.done_by.name,
            done_at=row.done_at,
        )
        for row in rows
    )


def _belief_shown(case: Case, h: harness.Harness) -> BeliefView:
    state = CaseState(case.state)
    if state in (CaseState.REPAIRED, CaseState.PROVEN):
        return belief_before_repair(case_id=case.pk, h=h)
    return latest_belief(case_id=case.pk, h=h)


def _case(case_id: int, viewer: Viewer) -> Case:
    demand(viewer.role, Act.SEE_SHOP)
    case = Case.objects.with_surroundings().filter(pk=case_id).first()
    if case is None:
        raise NotFound("case-not-found", "There is no such case.", "case_id")
    return case


def _head(case: Case, viewer: Viewer) -> CaseHead:
    order = case.work_order
    state = CaseState(case.state)
    return CaseHead(
        case_id=case.pk,
        title=case.title,
        state=state,
        state_label=STATE_LABELS[state],
        work_order_id=order.pk,
        work_order=order.label,
        complaint=order.complaint,
        bike=order.bike.name,
        harness_file_id=case.harness_file_id,
        harness_sha256=case.harness_file.sha256,
        harness=str(case.harness_file),
        nominal_volts=case.harness_file.nominal_volts,
        earth=case.harness_file.earth,
        opened_at=case.opened_at,
        opened_by=case.opened_by.name,
        step=case.step,
        findings_taken=case.findings_taken,
        repairs_made=case.repairs_made,
        is_open=state is CaseState.OPEN,
        is_unfinished=state in UNFINISHED,
        may_work=viewer.may(Act.FIND_FAULTS) and State(order.state) not in ENDED,
    )


def _line(case: Case) -> CaseLine:
    state = CaseState(case.state)
    return CaseLine(
        case_id=case.pk,
        title=case.title,
        state=state,
        state_label=STATE_LABELS[state],
        bike=case.work_order.bike.name,
        work_order_id=case.work_order_id,
        work_order=case.work_order.label,
        opened_at=case.opened_at,
        findings_taken=case.findings_taken,
        is_unfinished=state in UNFINISHED,
    )
