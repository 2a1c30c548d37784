"""A hunt is opened on a going work order and ends proven, or given up."""

import pytest

from diagnostics.actions.cases import give_up_case, open_case, prove_case, reopen_case
from diagnostics.actions.findings import record_retest
from diagnostics.models import Belief, Case, Finding
from shop.domain.lifecycle import State
from shop.domain.refusals import IllegalMove, NotAllowed, NotFound, Refusal
from shop.models import HistoryEntry
from tests.builders import MORNING, BikeFactory, FrontDeskFactory, UserFactory
from tests.diagnostics.builders import (
    a_case,
    a_case_with_complaint,
    a_library_file,
    a_repaired_case,
    a_work_order,
)

pytestmark = pytest.mark.django_db


def test_a_case_opens_with_a_belief_from_the_drawing_alone() -> None:
    case = a_case()
    assert (case.state, case.step) == ("open", 0)
    belief = Belief.objects.of_case(case.pk).get()
    assert (belief.step, belief.finding, belief.conflict) == (0, None, None)
    entry = HistoryEntry.objects.of_work_order(case.work_order_id).get()
    assert (entry.verb, entry.subject_kind) == ("case.opened", "case")


@pytest.mark.parametrize("state", [State.CLOSED, State.CALLED_OFF])
def test_no_case_opens_on_a_work_order_that_has_ended(state: State) -> None:
    with pytest.raises(IllegalMove, match="has ended"):
        open_case(
            work_order_id=a_work_order(state=state.value).pk,
            harness_file_id=a_library_file().pk,
            title="Horn dead",
            acting_user=UserFactory.create(),
            at=MORNING,
        )
    assert Case.objects.count() == 0


@pytest.mark.parametrize(("earth", "volts"), [("positive", 12), ("negative", 6)])
def test_the_drawing_must_be_of_the_bikes_polarity_and_voltage(
    earth: str, volts: int
) -> None:
    bike = BikeFactory.create(earth=earth, system_volts=volts)
    with pytest.raises(Refusal, match="Choose another drawing") as refused:
        open_case(
            work_order_id=a_work_order(bike=bike).pk,
            harness_file_id=a_library_file().pk,
            title="Horn dead",
            acting_user=UserFactory.create(),
            at=MORNING,
        )
    assert refused.value.field == "harness_file_id"


@pytest.mark.parametrize("title", ["", "  ", "x" * 121])
def test_a_case_has_a_short_title(title: str) -> None:
    with pytest.raises(Refusal) as refused:
        open_case(
            work_order_id=a_work_order().pk,
            harness_file_id=a_library_file().pk,
            title=title,
            acting_user=UserFactory.create(),
            at=MORNING,
        )
    assert refused.value.field == "title"


def test_what_is_not_there_is_not_found() -> None:
    person = UserFactory.create()
    for work_order_id, harness_file_id in (
        (10**15, a_library_file().pk),
        (a_work_order().pk, 10**15),
    ):
        with pytest.raises(NotFound):
            open_case(
                work_order_id=work_order_id,
                harness_file_id=harness_file_id,
                title="Horn dead",
                acting_user=person,
                at=MORNING,
            )


def test_the_front_desk_opens_no_case() -> None:
    with pytest.raises(NotAllowed):
        a_case(FrontDeskFactory.create())


def prove(case: Case) -> Case:
    return prove_case(case_id=case.pk, acting_user=UserFactory.create(), at=MORNING)


def retake(case: Case, reads: str, key: str = "again") -> Finding:
    return record_retest(
        finding_id=Finding.objects.of_case(case.pk).get(sequence=1).pk,
        reads=reads,
        key=key,
        acting_user=UserFactory.create(),
        at=MORNING,
    )


def test_a_repair_is_proven_when_the_failed_test_reads_well() -> None:
    case = a_repaired_case()
    retake(case, "works")
    assert prove(case).state == "proven"
    entry = HistoryEntry.objects.latest_first()[0]
    assert entry.verb == "case.proven"
    assert entry.changes["state"] == ["Repaired, proof wanted", "Repaired and proven"]


def test_a_repair_is_not_proven_while_its_test_is_missing_or_bad() -> None:
    case = a_repaired_case()
    with pytest.raises(IllegalMove, match="take finding 1 again"):
        prove(case)
    retake(case, "weak")
    with pytest.raises(IllegalMove, match="still reads badly"):
        prove(case)
    retake(case, "works", key="better")
    assert prove(case).state == "proven"


def test_a_case_without_a_repair_cannot_be_proven() -> None:
    with pytest.raises(IllegalMove, match="Record the repair first"):
        prove(a_case_with_complaint())


def test_a_repair_that_did_not_cure_is_reopened_and_the_retest_counts_on() -> None:
    case = a_repaired_case()
    retake(case, "dead")
    reopened = reopen_case(
        case_id=case.pk,
        reason="Horn still dead.",
        acting_user=UserFactory.create(),
        at=MORNING,
    )
    assert reopened.state == "open"
    faults = Belief.objects.of_case(case.pk).latest("step").faults
    assert faults[0]["faults"] != []


def test_giving_up_and_reopening_want_a_reason_and_leave_it_on_record() -> None:
    case = a_case_with_complaint()
    person = UserFactory.create()
    for move in (give_up_case, reopen_case):
        if move is reopen_case:
            give_up_case(
                case_id=case.pk, reason="Sold.", acting_user=person, at=MORNING
            )
        with pytest.raises(IllegalMove) as refused:
            move(case_id=case.pk, reason=" ", acting_user=person, at=MORNING)
        assert refused.value.field == "reason"
    reopen_case(case_id=case.pk, reason="Back.", acting_user=person, at=MORNING)
    reasons = [entry.reason for entry in HistoryEntry.objects.latest_first()]
    assert reasons[:2] == ["Back.", "Sold."]


def test_a_case_of_an_ended_work_order_stays_shut() -> None:
    case = a_case_with_complaint()
    person = UserFactory.create()
    give_up_case(case_id=case.pk, reason="Sold.", acting_user=person, at=MORNING)
    order = case.work_order
    type(order).objects.filter(pk=order.pk).update(
        state=State.CLOSED.value, ended_at=MORNING
    )
    with pytest.raises(IllegalMove, match="has ended"):
        reopen_case(case_id=case.pk, reason="Back.", acting_user=person, at=MORNING)
