"""A finding withdrawn, with the reason; what it led to is thought through again."""

from collections.abc import Callable
from datetime import datetime

from diagnostics.actions.beliefs import hold_belief
from diagnostics.actions.history import note_on_case
from diagnostics.actions.steps import advance, case_row, on_the_case_as_it_is
from diagnostics.convert import LONGEST_NOTE
from diagnostics.engine import conclusions, loom_of
from diagnostics.lifecycle import CaseState, demand_unfinished
from diagnostics.models import Finding, FindingVoid
from shop.domain.refusals import NotFound, Refusal
from shop.domain.roles import Act
from shop.models import User


def void_finding(
    *, finding_id: int, reason: str, acting_user: User, at: datetime
) -> FindingVoid:
    """Withdraw a finding; voiding it twice gives back the first void.

    Raises
    ------
    Refusal
        No reason is given, or the case is finished.
    """
    acting_user.demand(Act.FIND_FAULTS)
    if not reason.strip():
        raise Refusal(
            "reason-missing",
            "Say what was wrong with the finding, in a few words.",
            "reason",
        )

    if len(reason.strip()) > LONGEST_NOTE:
        raise Refusal(
            "reason-too-long", f"Keep it to {LONGEST_NOTE} characters.", "reason"
        )

    def think() -> Callable[[], FindingVoid]:
        finding = _finding(finding_id)
        if hasattr(finding, "void"):
            already = finding.void
            return lambda: already
        case = case_row(finding.case_id)
        demand_unfinished(CaseState(case.state))
        standing = [
            other
            for other in Finding.objects.of_case(case.pk)
            .on_loom(case.repairs_made)
            .counted()
            if other.pk != finding.pk
        ]
        drawn = conclusions(loom_of(case.harness_file.sha256), standing=standing)

        def write() -> FindingVoid:
            advance(case)
            void = FindingVoid.objects.create(
                finding=finding,
                step=case.step + 1,
                reason=reason.strip(),
                voided_by=acting_user,
                voided_at=at,
            )
            hold_belief(
                case=case, step=void.step, conclusion=drawn[0], cause=void, at=at
            )
            note_on_case(
                case,
                verb="finding.voided",
                summary=f"Finding {finding.sequence} voided ({case.title})",
                acting_user=acting_user,
                at=at,
                reason=void.reason,
            )
            return void

        return write

    return on_the_case_as_it_is(think)


def _finding(finding_id: int) -> Finding:
    found = Finding.objects.select_related("void").filter(pk=finding_id).first()
    if found is None:
        raise NotFound("finding-not-found", "There is no such finding.", "finding_id")
    return found
