"""Confirmed repairs: those that a proof followed, and that say what was bad."""

import pytest

from diagnostics.actions.cases import prove_case, reopen_case
from diagnostics.actions.findings import record_retest
from diagnostics.actions.repairs import RepairEntry, record_repair
from diagnostics.models import Case, Finding
from diagnostics.selectors.confirmed_repairs import ConfirmedRepair, confirmed_repairs
from shop.models import User
from tests.builders import MORNING, UserFactory
from tests.diagnostics.builders import a_case_with_complaint, a_repaired_case

pytestmark = pytest.mark.django_db


def proven(case: Case, person: User) -> None:
    """Take the dead horn again, working, and close the case."""
    record_retest(
        finding_id=Finding.objects.of_case(case.pk).get(sequence=1).pk,
        reads="works",
        key="retest",
        acting_user=person,
        at=MORNING,
    )
    prove_case(case_id=case.pk, acting_user=person, at=MORNING)


def repaired(case: Case, person: User, key: str, entry: RepairEntry) -> None:
    record_repair(case_id=case.pk, entry=entry, key=key, acting_user=person, at=MORNING)


def test_a_repair_counts_once_it_is_proven() -> None:
    person = UserFactory.create()
    case = a_repaired_case(person)
    assert confirmed_repairs() == ()
    proven(case, person)
    sha256 = case.harness_file.sha256
    (found,) = confirmed_repairs()
    assert found == ConfirmedRepair(sha256=sha256, segments=("wire:5",), mode="open")


def test_a_fault_that_came_back_was_not_put_right() -> None:
    person = UserFactory.create()
    case = a_repaired_case(person)
    proven(case, person)
    reopen_case(case_id=case.pk, reason="Dead again.", acting_user=person, at=MORNING)
    assert confirmed_repairs() == ()


def test_of_several_repairs_the_last_was_the_cure() -> None:
    person = UserFactory.create()
    case = a_repaired_case(person)
    entry = RepairEntry(done="New horn.", segments=["device:horn"], mode="dead")
    repaired(case, person, "second", entry)
    proven(case, person)
    assert [repair.segments for repair in confirmed_repairs()] == [("device:horn",)]


def test_a_repair_that_does_not_say_how_it_was_bad_teaches_nothing() -> None:
    person = UserFactory.create()
    case = a_case_with_complaint(person)
    repaired(case, person, "only", RepairEntry(done="Wiggled it.", segments=["wire:5"]))
    proven(case, person)
    assert confirmed_repairs() == ()
