"""Stored beliefs in words."""

import pytest

import harness
from diagnostics.models import Belief
from diagnostics.selectors.beliefs import (
    belief_before_repair,
    belief_step,
    belief_view,
    cause_words,
    fault_view,
    latest_belief,
)
from tests.diagnostics.builders import (
    BENCH_TOML,
    a_case_with_complaint,
    a_repaired_case,
)

pytestmark = pytest.mark.django_db

H = harness.loads(BENCH_TOML, name="bench example")


def test_the_latest_belief_is_the_one_after_the_last_step() -> None:
    case = a_case_with_complaint()
    assert latest_belief(case_id=case.pk, h=H).step == 3


def test_before_a_repair_is_what_led_to_it() -> None:
    case = a_repaired_case()
    assert latest_belief(case_id=case.pk, h=H).step == 4
    assert belief_before_repair(case_id=case.pk, h=H).step == 3


def test_a_case_without_any_belief_is_a_mistake_of_ours() -> None:
    with pytest.raises(LookupError):
        latest_belief(case_id=10**15, h=H)


def test_a_step_names_what_was_suspected_most() -> None:
    case = a_case_with_complaint()
    row = Belief.objects.of_case(case.pk).with_causes().get(step=1)
    step = belief_step(row, H)
    assert step.cause == "Finding 1. Horn: Dead"
    assert step.leading == belief_view(row, H).faults[0].label


def test_each_cause_has_its_words() -> None:
    case = a_repaired_case()
    rows = Belief.objects.of_case(case.pk).with_causes()
    assert cause_words(H, rows[0]) == "Case opened"
    assert cause_words(H, rows[4]).startswith("Repair 1: Horn earth wire")


def test_no_fault_is_a_healthy_loom() -> None:
    view = fault_view(H, {"faults": [], "probability": 0.5, "words": "x"})
    assert view.label == "Nothing wrong with the loom as drawn"
    assert (view.segments, view.mode) == ((), "")


def test_conflict_and_isolation_name_findings_and_segments() -> None:
    case = a_case_with_complaint()
    row = Belief.objects.of_case(case.pk).with_causes().get(step=3)
    row.conflict = {"findings": ["finding 1", "finding 2"], "words": "they clash"}
    row.isolated = {"segments": ["wire:5"], "probability": 0.97}
    view = belief_view(row, H)
    assert view.conflict is not None
    assert (view.conflict.findings, view.conflict.words) == ((1, 2), "They clash")
    assert view.isolated is not None
    assert view.isolated.groups[0][0].startswith("Wire 5 (brown, BN)")
    assert view.isolated.percent == "97 %"
