"""What holds for every kind: any reading that can be is judged, all else refused."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from harness import HarnessError
from harness.measurements import KINDS, SYSTEM_VOLTS, Verdict, judge
from harness.measurements.limits import worst
from tests.harness.measurements.bikes import SYSTEMS, TWELVE
from tests.harness.measurements.samples import Sample, samples


@given(samples())
def test_whatever_can_be_read_is_judged(sample: Sample) -> None:
    kind, system, readings = sample
    judged = judge(kind.name, readings, system)
    assert judged.verdict in Verdict
    for text in (judged.says, judged.next_step):
        assert text[0].isupper()
        assert text.endswith(".")
    assert judged.limit in [held.limit for held in judged.held]
    assert judged.cautions == kind.cautions(system)
    # The whole is never judged better than its parts.
    parts = worst(tuple(held.verdict for held in judged.held))
    assert worst((judged.verdict, parts)) is judged.verdict


@given(samples(), st.data())
def test_a_number_outside_its_span_is_refused_by_its_name(
    sample: Sample, data: st.DataObject
) -> None:
    kind, system, readings = sample
    numbers = [item for item in kind.inputs(system) if not item.choices]
    item = data.draw(st.sampled_from(numbers))
    beyond = data.draw(
        st.sampled_from(
            [math.nan, math.inf, -math.inf, item.low - 1, item.high * 2 + 1, "?"]
        )
    )
    with pytest.raises(HarnessError) as refused:
        judge(kind.name, {**readings, item.name: beyond}, system)
    assert [problem.where for problem in refused.value.problems] == [item.name]
    assert all(problem.mend for problem in refused.value.problems)


def test_every_kind_can_be_listed_for_every_system_it_is_for() -> None:
    for kind in KINDS:
        for system in SYSTEMS:
            if system.volts not in kind.systems:
                with pytest.raises(HarnessError, match="no limit is known"):
                    kind.inputs(system)
                continue
            names = [item.name for item in kind.inputs(system)]
            assert len(names) == len(set(names)) > 0
            assert kind.limits(system)
            assert all("{" not in step for step in kind.steps_on(system))


def test_only_the_coil_is_not_for_all_volts() -> None:
    partial = [kind.name for kind in KINDS if kind.systems != SYSTEM_VOLTS]
    assert partial == ["coil-primary"]


def test_the_gravest_limit_is_the_one_that_decided() -> None:
    judged = judge(
        "stator-ohms",
        {
            "phase_ab_ohm": 0.5,
            "phase_bc_ohm": 0.5,
            "phase_ca_ohm": 0.5,
            "body_ohm": 3,
        },
        TWELVE,
    )
    assert judged.limit.quantity == "Winding to body"
    assert judged.source.startswith("Stator checks")


def test_a_judgement_keeps_what_was_entered_and_nothing_that_was_left_out() -> None:
    judged = judge(
        "parasitic-draw",
        {"draw_ma": "0,5", "fitted": "nothing", "capacity_ah": ""},
        TWELVE,
    )
    draw, fitted = judged.entered
    assert (draw.label, draw.value, draw.unit) == ("Current drawn", 0.5, "mA")
    assert (fitted.value, fitted.words) == ("nothing", "No electronics at all")
