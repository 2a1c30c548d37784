"""Stored beliefs in words."""

import pytest

import harness
from diagnostics.actions.findings import record_finding
from diagnostics.convert import FindingEntry
from diagnostics.lifecycle import Origin
from diagnostics.models import Belief
from diagnostics.selectors.beliefs import (
    belief_before_repair,
    belief_step,
    belief_view,
    cause_words,
    fault_view,
    latest_belief,
)
from tests.builders import MORNING, UserFactory
from tests.diagnostics.builders import (
    BENCH_TOML,
    HORN,
    a_case_of_two_faults,
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
    assert view.lines == (view.label,)
    assert (view.segments, view.mode, view.intermittent) == ((), "", False)


def test_two_faults_at_once_are_two_lines_under_one_probability() -> None:
    case = a_case_of_two_faults()
    first = latest_belief(case_id=case.pk, h=H).faults[0]
    assert len(first.segments) == len(first.lines) == 2
    assert first.label == "; ".join(first.lines)
    assert all(line[0].isupper() for line in first.lines)


def test_a_contact_that_opens_when_moved_says_so() -> None:
    said = harness.Case(H)
    said.add({"tool": "eye", "device": "horn", "rig": HORN, "reads": "works"})
    lamp = {"tool": "test-lamp", "probe": "horn.1", "clip": "frame.battery"}
    for rig in (HORN, {"key-switch": "ON"}):
        said.add({**lamp, "rig": rig, "reads": "dark", "moving": True})
    view = fault_view(H, said.faults()[0])
    assert view.intermittent
    assert "opens when the loom is moved" in view.label


def test_a_step_says_that_the_loom_was_moved() -> None:
    person = UserFactory.create()
    case = a_case_with_complaint(person)
    record_finding(
        case_id=case.pk,
        entry=FindingEntry(
            tool="test-lamp", probe="horn.1", rig=HORN, reads="lit", moving=True
        ),
        origin=Origin.FREE,
        key="moved",
        acting_user=person,
        at=MORNING,
    )
    row = Belief.objects.of_case(case.pk).with_causes().latest("step")
    assert cause_words(H, row).endswith("Lit, while the loom was moved")


def test_what_is_worth_no_line_is_left_out() -> None:
    case = a_case_with_complaint()
    row = Belief.objects.of_case(case.pk).with_causes().get(step=3)
    fault = row.faults[0]
    row.faults = [{**fault, "probability": p} for p in (0.97, 0.02, 0.004)]
    assert len(belief_view(row, H).leading) == 2
    row.faults = [{**fault, "probability": 0.004}]
    assert len(belief_view(row, H).leading) == 1


def test_both_of_a_pair_are_one_group_and_the_test_to_be_sure_can_be_taken() -> None:
    case = a_case_with_complaint()
    row = Belief.objects.of_case(case.pk).with_causes().get(step=3)
    row.isolated = {
        "segments": ["wire:5", "wire:10"],
        "groups": [["wire:10", "wire:5"]],
        "probability": 0.97,
    }
    row.confirming = row.advice[0]
    view = belief_view(row, H)
    assert view.isolated is not None
    ((one, other),) = view.isolated.groups
    assert (one[:7], other[:6]) == ("Wire 10", "Wire 5")
    assert view.confirming is not None
    assert (view.confirming.tag, view.tests[0].tag) == ("sure", "1")


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
