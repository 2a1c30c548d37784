"""What must hold of the bench's rows holds in the database itself."""

from typing import Any

import pytest
from django.db import IntegrityError, models, transaction

from diagnostics.models import (
    Belief,
    Case,
    Finding,
    FindingVoid,
    HarnessFile,
    Repair,
)
from tests.builders import MORNING, UserFactory
from tests.diagnostics.builders import a_repaired_case

pytestmark = pytest.mark.django_db

FROZEN: tuple[tuple[type[models.Model], dict[str, Any]], ...] = (
    (HarnessFile, {"text": "schema = 1"}),
    (Finding, {"reads": "works"}),
    (FindingVoid, {"reason": "Other."}),
    (Belief, {"engine": "0"}),
    (Repair, {"done": "Nothing."}),
)


def refused(statement: Any) -> bool:
    try:
        with transaction.atomic():
            statement()
    except IntegrityError:
        return True
    return False


@pytest.mark.parametrize(("model", "change"), FROZEN)
def test_what_is_on_record_is_neither_changed_nor_taken_away(
    model: type[models.Model], change: dict[str, Any]
) -> None:
    case = a_repaired_case()
    FindingVoid.objects.create(
        finding=Finding.objects.of_case(case.pk).get(sequence=3),
        step=99,
        reason="Wrong bulb.",
        voided_by=UserFactory.create(),
        voided_at=MORNING,
    )
    rows = model._default_manager.all()
    assert rows.exists()
    assert refused(lambda: rows.update(**change))
    assert refused(lambda: rows._raw_delete(rows.db))


def finding(case: Case, **changes: Any) -> Finding:
    return Finding.objects.create(
        **{
            "case": case,
            "sequence": 50,
            "step": 50,
            "repairs_before": 0,
            "key": "k",
            "rig": {},
            "tool": "eye",
            "device": "horn",
            "reads": "dead",
            "origin": "free",
            "taken_by": UserFactory.create(),
            "taken_at": MORNING,
            **changes,
        }
    )


@pytest.mark.parametrize(
    "changes",
    [
        {"tool": "divining-rod"},
        {"origin": "hearsay"},
        {"reads": ""},
        {"key": ""},
        {"device": ""},
        {"probe": "horn.1"},
        {"wire": "3"},
        {"tool": "ammeter"},
        {"tool": "ammeter", "device": ""},
        {"tool": "ammeter", "device": "", "wire": "3", "probe": "horn.1"},
        {"tool": "voltmeter", "device": "", "wire": "3"},
        {"tool": "test-lamp", "device": "", "probe": "horn.1"},
        {"tool": "test-lamp", "probe": "horn.1", "clip": "frame.rear"},
        {"sequence": 1},
        {"key": "complaint.1"},
    ],
)
def test_a_crooked_finding_is_refused(changes: dict[str, Any]) -> None:
    case = a_repaired_case()
    assert refused(lambda: finding(case, **changes))
    finding(case)


def test_a_clamp_round_a_wire_is_a_finding_moved_or_not() -> None:
    case = a_repaired_case()
    row = finding(case, tool="ammeter", device="", wire="3", reads="2.4", moving=True)
    assert str(row) == "Finding 50: ammeter wire 3 reads 2.4, loom moved"


def test_only_a_retest_repeats_another_finding() -> None:
    case = a_repaired_case()
    first = Finding.objects.of_case(case.pk).get(sequence=1)
    assert refused(lambda: finding(case, retest_of=first))
    finding(case, retest_of=first, origin="retest")


def test_a_case_is_in_a_state_of_the_table_and_has_a_title() -> None:
    case = a_repaired_case()
    for change in ({"state": "lost"}, {"title": ""}):
        assert refused(lambda: Case.objects.filter(pk=case.pk).update(**change))  # noqa: B023 - called at once


def test_a_belief_has_one_cause_at_most() -> None:
    case = a_repaired_case()
    first = Finding.objects.of_case(case.pk).get(sequence=1)
    repair = Repair.objects.of_case(case.pk).get()
    assert refused(
        lambda: Belief.objects.create(
            case=case,
            step=70,
            finding=first,
            repair=repair,
            faults=[],
            segments={},
            advice=[],
            engine="1",
            held_at=MORNING,
        )
    )


def test_a_work_order_with_a_hunt_cannot_be_deleted() -> None:
    case = a_repaired_case()
    with pytest.raises(models.ProtectedError):
        case.work_order.delete()
