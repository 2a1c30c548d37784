"""A repair says what was done, and makes a new loom of it."""

from typing import Any

import pytest

from diagnostics.actions.repairs import RepairEntry, record_repair
from diagnostics.models import Belief, Case, Repair
from shop.domain.refusals import IllegalMove, NotAllowed, Refusal
from tests.builders import MORNING, StorekeeperFactory, UserFactory
from tests.diagnostics.builders import a_case_with_complaint, a_repaired_case

pytestmark = pytest.mark.django_db


def repair(case: Case, key: str = "repair", **changes: Any) -> Repair:
    by = changes.pop("by", None) or UserFactory.create()
    entry = RepairEntry(**{"done": "New wire crimped in.", **changes})
    return record_repair(
        case_id=case.pk, entry=entry, key=key, acting_user=by, at=MORNING
    )


def test_a_repair_is_recorded_and_its_proof_is_wanted() -> None:
    case = a_case_with_complaint()
    made = repair(
        case, segments=["wire:5", "wire:5"], mode="open", parts=" 0.3 m of BN, 1 mm2 "
    )
    case.refresh_from_db()
    assert (case.state, case.repairs_made) == ("repaired", 1)
    assert (made.sequence, made.segments, made.parts) == (
        1,
        ["wire:5"],
        "0.3 m of BN, 1 mm2",
    )
    assert Belief.objects.of_case(case.pk).latest("step").repair == made


def test_the_same_tap_sent_twice_is_one_repair() -> None:
    case = a_case_with_complaint()
    assert repair(case).pk == repair(case).pk
    case.refresh_from_db()
    assert case.repairs_made == 1


def test_a_second_repair_is_another_loom() -> None:
    case = a_repaired_case()
    assert repair(case, key="more").sequence == 2
    case.refresh_from_db()
    assert (case.state, case.repairs_made) == ("repaired", 2)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"done": "  "}, "done"),
        ({"segments": ["wire:99"]}, "segments"),
        ({"mode": "haunted"}, "mode"),
        ({"parts": "x" * 401}, "parts"),
    ],
)
def test_a_repair_that_says_too_little_or_the_impossible_changes_nothing(
    changes: dict[str, Any], field: str
) -> None:
    case = a_case_with_complaint()
    with pytest.raises(Refusal) as refused:
        repair(case, **changes)
    assert refused.value.field == field
    case.refresh_from_db()
    assert (case.state, Repair.objects.count()) == ("open", 0)


def test_a_given_up_case_takes_no_repair() -> None:
    case = a_case_with_complaint()
    Case.objects.filter(pk=case.pk).update(state="given-up")
    with pytest.raises(IllegalMove, match="Reopen"):
        repair(case)


def test_a_storekeeper_records_no_repair() -> None:
    with pytest.raises(NotAllowed):
        repair(a_case_with_complaint(), by=StorekeeperFactory.create())
