"""The record of a work order's fault hunts, for its report."""

from dataclasses import dataclass

from diagnostics.engine import loom_of
from diagnostics.lifecycle import STATE_LABELS, CaseState
from diagnostics.models import Belief, Case
from diagnostics.selectors.beliefs import BeliefView, belief_view
from diagnostics.selectors.cases import RepairView, repair_views
from diagnostics.selectors.findings import FindingView, finding_views
from diagnostics.selectors.measurements import MeasurementView, measurement_views
from diagnostics.selectors.retests import RetestView, retest_views


@dataclass(frozen=True, kw_only=True)
class CaseRecord:
    """One fault hunt from complaint to proof.

    `found` is what was believed when the first repair was begun, or is believed now
    where none was.
    """

    title: str
    drawing: str
    nominal_volts: int
    earth: str
    state: str
    state_label: str
    findings: tuple[FindingView, ...]
    found: BeliefView
    repairs: tuple[RepairView, ...]
    retests: tuple[RetestView, ...]
    measurements: tuple[MeasurementView, ...]


def case_records(*, work_order_id: int) -> tuple[CaseRecord, ...]:
    """Return the fault hunts of a work order, the oldest first."""
    rows = Case.objects.with_surroundings().of_work_order(work_order_id)
    return tuple(_record(row) for row in rows)


def unfinished_titles(*, work_order_id: int) -> tuple[tuple[str, str], ...]:
    """Return title and state of each hunt that still wants something."""
    rows = Case.objects.of_work_order(work_order_id).unfinished()
    return tuple(rows.values_list("title", "state"))


def _record(case: Case) -> CaseRecord:
    h = loom_of(case.harness_file.sha256)
    findings = finding_views(case_id=case.pk, h=h)
    repairs = repair_views(case_id=case.pk, h=h)
    beliefs = Belief.objects.of_case(case.pk).with_causes()
    if repairs:
        beliefs = beliefs.before_step(repairs[0].step)
    return CaseRecord(
        title=case.title,
        drawing=str(case.harness_file),
        nominal_volts=case.harness_file.nominal_volts,
        earth=case.harness_file.earth,
        state=case.state,
        state_label=STATE_LABELS[CaseState(case.state)],
        findings=findings,
        found=belief_view(beliefs.latest("step"), h),
        repairs=repairs,
        retests=retest_views(case=case, findings=findings),
        measurements=measurement_views(case_id=case.pk),
    )
