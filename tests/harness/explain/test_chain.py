"""From findings to a verdict, each step naming findings and segments."""

import json

import pytest

from harness.case import Case
from harness.errors import HarnessError
from harness.segments import segments_of
from tests.harness.conflict.cases import Given, bike, case_of
from tests.harness.explain.hunts import LIT_AT_HORN, PAIR, WORKS
from tests.harness.library import WREN, loom
from tests.harness.small_looms import DEAD_HORN, HIGH_RETURN

HUNTS: tuple[tuple[Given, ...], ...] = (
    (),
    (DEAD_HORN, WORKS),
    (DEAD_HORN, WORKS, LIT_AT_HORN, HIGH_RETURN),
    PAIR,
)


@pytest.mark.parametrize("findings", HUNTS)
def test_every_segment_explains_the_verdict_that_it_has(
    findings: tuple[Given, ...],
) -> None:
    case = case_of(*findings)
    known = {finding.id for finding in case.findings}
    for segment, row in case.segments().items():
        told = case.explain(segment)
        assert told["segment"] == segment
        assert told["verdict"] == row["verdict"]
        assert told["probability"] == pytest.approx(row["probability"])
        first = told["steps"][0]
        assert first["findings"] == row["proof"]
        assert first["segments"] == [segment]
        for step in told["steps"]:
            assert step["sentence"][0] == step["sentence"][0].upper()
            assert step["sentence"].endswith(".")
            assert set(step["findings"]) <= known
            assert set(step["segments"]) <= set(segments_of(bike()))
        if row["proof"]:
            assert any(set(s["findings"]) & known for s in told["steps"][1:]), segment


def test_an_explanation_is_plain_data() -> None:
    told = case_of(DEAD_HORN, WORKS).explain("wire:5")
    assert json.loads(json.dumps(told)) == told


def test_a_segment_that_is_not_there_is_refused_with_those_near_it() -> None:
    with pytest.raises(HarnessError) as refused:
        case_of().explain("wire:55")
    assert "no such segment" in str(refused.value)


def test_it_works_on_a_case_loom_with_a_conflict() -> None:
    case = Case(loom(WREN))
    lights = {"light-switch": "ON"}
    lamp: Given = {"rig": lights, "tool": "test-lamp"}
    case.add({"rig": lights, "tool": "eye", "device": "tail-lamp", "reads": "dead"})
    case.add({**lamp, "probe": "tail-lamp.1", "reads": "lit"})
    case.add({**lamp, "probe": "light-switch.58", "reads": "dark"})
    assert case.conflict() is not None
    for segment in segments_of(loom(WREN)):
        assert case.explain(segment)["steps"]
