"""Cases opened, proven, given up and reopened."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from django.db import transaction

from diagnostics.actions.beliefs import hold_belief
from diagnostics.actions.history import note_on_case
from diagnostics.actions.steps import advance, case_row, on_the_case_as_it_is
from diagnostics.engine import conclusions, loom_of
from diagnostics.lifecycle import CaseEvent, CaseState, next_state
from diagnostics.models import Case, HarnessFile
from diagnostics.retests import demand_all_good
from diagnostics.selectors.retests import retests_of
from shop.domain.lifecycle import ENDED, State
from shop.domain.refusals import IllegalMove, NotFound, Refusal
from shop.domain.roles import Act
from shop.models import User, WorkOrder

_LONGEST_TITLE = 120


def open_case(
    *,
    work_order_id: int,
    harness_file_id: int,
    title: str,
    acting_user: User,
    at: datetime,
) -> Case:
    """Open a fault hunt on a work order, against one drawing.

    Raises
    ------
    Refusal
        The work order has ended, or the drawing is of another voltage or polarity
        than the bike.
    """
    acting_user.demand(Act.FIND_FAULTS)
    words = title.strip()
    if not words:
        raise Refusal(
            "title-missing", "Say in a few words what does not work.", "title"
        )
    if len(words) > _LONGEST_TITLE:
        raise Refusal(
            "title-too-long", f"Keep it to {_LONGEST_TITLE} characters.", "title"
        )
    work_order = _work_order(work_order_id)
    _demand_going(work_order)
    file = HarnessFile.objects.defer("text").filter(pk=harness_file_id).first()
    if file is None:
        raise NotFound(
            "harness-file-not-found",
            "There is no such harness file; choose one from the library.",
            "harness_file_id",
        )
    _demand_same_bike(work_order, file)
    drawn = conclusions(loom_of(file.sha256), standing=())[0]
    with transaction.atomic():
        case = Case.objects.create(
            work_order=work_order,
            harness_file=file,
            title=words,
            opened_by=acting_user,
            opened_at=at,
        )
        hold_belief(case=case, step=0, conclusion=drawn, cause=None, at=at)
        note_on_case(
            case,
            verb="case.opened",
            summary=f"Case opened: {words} (drawing: {file})",
            acting_user=acting_user,
            at=at,
            to=CaseState.OPEN,
        )
    return case


def prove_case(*, case_id: int, acting_user: User, at: datetime) -> Case:
    """Close the case: every failed test reads as a healthy loom would.

    Raises
    ------
    Refusal
        A failed test was not taken again, or reads badly still.
    """

    def check(case: Case) -> None:
        demand_all_good(retests_of(case))

    move = _Move(event=CaseEvent.PROVE, acting_user=acting_user, at=at)
    return _move(case_id, move, check=check)


def give_up_case(*, case_id: int, reason: str, acting_user: User, at: datetime) -> Case:
    """End the hunt without a repair.

    Raises
    ------
    Refusal
        No reason is given, or the case is finished.
    """
    move = _Move(event=CaseEvent.GIVE_UP, acting_user=acting_user, at=at, reason=reason)
    return _move(case_id, move, check=lambda _case: None)


def reopen_case(*, case_id: int, reason: str, acting_user: User, at: datetime) -> Case:
    """Go on looking: the repair did not cure, or the fault came back.

    Raises
    ------
    Refusal
        No reason is given, the case is open, or its work order has ended.
    """

    def check(case: Case) -> None:
        _demand_going(_work_order(case.work_order_id))

    move = _Move(event=CaseEvent.REOPEN, acting_user=acting_user, at=at, reason=reason)
    return _move(case_id, move, check=check)


Check = Callable[[Case], None]


@dataclass(frozen=True, kw_only=True)
class _Move:
    """A move of a case as somebody asks for it."""

    event: CaseEvent
    acting_user: User
    at: datetime
    reason: str = ""


def _move(case_id: int, move: _Move, *, check: Check) -> Case:
    move.acting_user.demand(Act.FIND_FAULTS)

    def think() -> Callable[[], Case]:
        case = case_row(case_id)
        state = next_state(CaseState(case.state), move.event, reason=move.reason)
        check(case)

        def write() -> Case:
            advance(case, to=state)
            note_on_case(
                case,
                verb=_VERBS[move.event],
                summary=f"{_SAID[move.event]}: {case.title}",
                acting_user=move.acting_user,
                at=move.at,
                reason=move.reason,
                to=state,
            )
            return case_row(case_id)

        return write

    return on_the_case_as_it_is(think)


_VERBS = {
    CaseEvent.PROVE: "case.proven",
    CaseEvent.GIVE_UP: "case.given_up",
    CaseEvent.REOPEN: "case.reopened",
}
_SAID = {
    CaseEvent.PROVE: "Repair proven, case closed",
    CaseEvent.GIVE_UP: "Case given up",
    CaseEvent.REOPEN: "Case reopened",
}


def _work_order(work_order_id: int) -> WorkOrder:
    found = WorkOrder.objects.select_related("bike").filter(pk=work_order_id).first()
    if found is None:
        raise NotFound(
            "work-order-not-found", "There is no such work order.", "work_order_id"
        )
    return found


def _demand_going(work_order: WorkOrder) -> None:
    if State(work_order.state) in ENDED:
        raise IllegalMove(
            "work-order-ended",
            f"{work_order.label} has ended; book the bike in again first.",
            "work_order_id",
        )


def _demand_same_bike(work_order: WorkOrder, file: HarnessFile) -> None:
    bike = work_order.bike
    if (bike.system_volts, bike.earth) == (file.nominal_volts, file.earth):
        return
    raise Refusal(
        "drawing-of-another-bike",
        f"The bike is noted as {bike.system_volts} V, {bike.earth} earth; this drawing "
        f"is {file.nominal_volts} V, {file.earth} earth. Choose another drawing, or "
        "correct the bike first.",
        "harness_file_id",
    )
