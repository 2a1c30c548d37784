"""Measurements are judged, kept as they were judged, and withdrawn with a reason."""

from typing import Any

import pytest

from diagnostics.actions.measurements import (
    MeasurementEntry,
    record_measurement,
    void_measurement,
)
from diagnostics.models import Case, Measurement, MeasurementVoid
from diagnostics.refusals import ReadingsRefused
from shop.domain.refusals import IllegalMove, NotAllowed, NotFound, Refusal
from shop.models import HistoryEntry
from tests.builders import MORNING, FrontDeskFactory, UserFactory
from tests.diagnostics.builders import a_case, a_repaired_case

pytestmark = pytest.mark.django_db

AT_REST = {"rest_v": "12,62", "battery_c": "20", "rested_h": 12}


def measure(
    case: Case, kind: str = "battery-rest", key: str = "tap", **changes: Any
) -> Measurement:
    by = changes.pop("by", None) or UserFactory.create()
    note = changes.pop("note", "")
    readings = changes.pop("readings", AT_REST)
    return record_measurement(
        case_id=case.pk,
        entry=MeasurementEntry(kind=kind, readings=readings, note=note),
        key=key,
        acting_user=by,
        at=MORNING,
    )


def void(made: Measurement, reason: str = "Wrong range.", **by: Any) -> MeasurementVoid:
    return void_measurement(
        measurement_id=made.pk,
        reason=reason,
        acting_user=by.get("by") or UserFactory.create(),
        at=MORNING,
    )


def test_a_measurement_is_kept_with_its_judgement_limit_and_source() -> None:
    made = measure(a_case(), note="  after a night's rest ")
    made.refresh_from_db()
    assert (made.sequence, made.kind, made.verdict) == (1, "battery-rest", "good")
    assert made.readings == {"rest_v": 12.62, "battery_c": 20.0, "rested_h": 12.0}
    assert made.note == "after a night's rest"
    assert made.judgement["held"][0]["limit"]["standing"] == "published"
    assert made.judgement["earth"] == "negative"


def test_it_leaves_a_row_on_the_work_orders_time_line() -> None:
    case = a_case()
    measure(case)
    entry = HistoryEntry.objects.latest("pk")
    assert (entry.verb, entry.work_order_id) == (
        "measurement.taken",
        case.work_order_id,
    )
    assert entry.summary == "Measurement 1: battery at rest, good (Horn dead)"


def test_it_moves_neither_belief_nor_state() -> None:
    case = a_case()
    measure(case)
    after = Case.objects.get(pk=case.pk)
    assert (after.step, after.state, after.findings_taken) == (case.step, case.state, 0)


def test_measurements_are_numbered_in_their_order_and_know_their_loom() -> None:
    case = a_repaired_case()
    made = [measure(case, key=f"tap-{number}") for number in range(3)]
    assert [row.sequence for row in made] == [1, 2, 3]
    assert made[0].repairs_before == 1


def test_the_same_tap_sent_twice_is_one_measurement() -> None:
    case = a_case()
    assert measure(case).pk == measure(case).pk
    assert Measurement.objects.count() == 1
    with pytest.raises(Refusal, match="with other readings"):
        measure(case, readings={**AT_REST, "rest_v": 12.1})


def test_readings_that_cannot_be_are_refused_each_by_its_name() -> None:
    with pytest.raises(ReadingsRefused) as refused:
        measure(a_case(), readings={"rest_v": "126", "battery_c": "hot"})
    assert [problem.field for problem in refused.value.problems] == [
        "rest_v",
        "battery_c",
        "rested_h",
    ]
    assert refused.value.problems[0].message.startswith("126 V cannot be")
    assert not Measurement.objects.exists()


def test_an_unknown_kind_is_refused() -> None:
    with pytest.raises(ReadingsRefused, match="No measurement is called 'tea'"):
        measure(a_case(), kind="tea")


@pytest.mark.parametrize(
    ("changes", "field"), [({"key": ""}, "key"), ({"note": "x" * 401}, "note")]
)
def test_an_entry_without_a_key_or_with_an_endless_note_is_refused(
    changes: dict[str, Any], field: str
) -> None:
    with pytest.raises(Refusal) as refused:
        measure(a_case(), **changes)
    assert refused.value.field == field


def test_only_who_finds_faults_measures() -> None:
    case = a_case()
    with pytest.raises(NotAllowed):
        measure(case, by=FrontDeskFactory.create())
    made = measure(case)
    with pytest.raises(NotAllowed):
        void(made, by=FrontDeskFactory.create())


def test_a_finished_case_takes_none_and_voids_none() -> None:
    case = a_case()
    made = measure(case)
    Case.objects.filter(pk=case.pk).update(state="given-up")
    with pytest.raises(IllegalMove, match="given up"):
        measure(case, key="later")
    with pytest.raises(IllegalMove, match="given up"):
        void(made)


def test_a_measurement_is_voided_once_and_stays_on_record() -> None:
    made = measure(a_case())
    first = void(made)
    assert void(made, "Again.").pk == first.pk
    assert Measurement.objects.get().void.reason == "Wrong range."
    entry = HistoryEntry.objects.latest("pk")
    assert (entry.verb, entry.reason) == ("measurement.voided", "Wrong range.")


@pytest.mark.parametrize("reason", ["  ", "x" * 401])
def test_a_void_says_why_in_a_few_words(reason: str) -> None:
    made = measure(a_case())
    with pytest.raises(Refusal) as refused:
        void(made, reason)
    assert refused.value.field == "reason"
    assert not MeasurementVoid.objects.exists()


def test_what_is_not_there_is_not_found() -> None:
    with pytest.raises(NotFound):
        void_measurement(
            measurement_id=10**15,
            reason="x",
            acting_user=UserFactory.create(),
            at=MORNING,
        )
    with pytest.raises(NotFound):
        measure(Case(pk=10**15))
