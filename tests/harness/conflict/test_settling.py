"""The test that settles which doubt is right."""

import numpy as np
import pytest

from harness.advice import Ranked
from harness.conflict.judging import Weighed, judged_conflict, weighed_doubts
from harness.conflict.settling import hypotheses, settling
from harness.conflict.supposed import AS_DRAWN, Supposed
from harness.minutes import surroundings
from harness.segments import Fault
from harness.weighing import Weighing
from tests.harness.conflict.cases import (
    DARK_BEFORE,
    LIT_BEHIND,
    LIVE_WITHOUT_BATTERY,
    Given,
    bike,
    rebuilt,
    weighed,
)
from tests.harness.conflict.test_doubts import WORKS
from tests.harness.conflict.test_drawings import SWAPPED, around_the_tail, reads
from tests.harness.small_looms import DEAD_HORN, LEAD_OFF


def settled(weighing: Weighing) -> tuple[list[Weighed], Ranked | None]:
    belief = weighing.belief()
    found = judged_conflict(weighing.sets, belief, weighing.beside)
    assert found is not None
    doubts = weighed_doubts(belief, found)
    around = surroundings(bike(), belief.findings)
    return doubts, settling(weighing.sets, belief, doubts, around)


def test_of_two_findings_that_deny_each_other_a_reading_tells_which() -> None:
    weighing = weighed(WORKS, DEAD_HORN, DARK_BEFORE, LIT_BEHIND)
    doubts, ranked = settled(weighing)
    assert ranked is not None
    assert ranked.bits > 0.8
    assert ranked.test not in {finding.test for finding in weighing.findings}
    _, labels, weight = hypotheses(doubts)
    # What the likeliest way of either doubt shows is not what that of the other does.
    first = {int(label): int(labels.tolist().index(label)) for label in labels}
    assert len({int(ranked.groups[i]) for i in first.values()}) == len(first)
    assert weight.sum() == pytest.approx(len(doubts))


def test_a_wire_not_as_drawn_is_told_from_two_faults_at_once() -> None:
    findings = reads(rebuilt(bike(), SWAPPED), around_the_tail())
    doubts, ranked = settled(weighed(*findings))
    assert len(doubts) > 1
    if ranked is not None:
        assert ranked.bits > 0.05


def test_a_lone_finding_is_taken_again_by_another_tool() -> None:
    doubts, ranked = settled(weighed(DEAD_HORN, LIVE_WITHOUT_BATTERY))
    assert len(doubts) == 1
    assert ranked is not None
    assert ranked.test.tool == "voltmeter"
    assert ranked.test.probe == "horn.1"
    assert ranked.test.rig.battery_lead == "off"
    # Dead as it must be without a battery, or live as the lamp has said.
    assert ranked.shown == pytest.approx([0.0, 12.0], abs=0.1)
    assert ranked.groups[0] != ranked.groups[1]


@pytest.mark.parametrize(
    ("given", "stands"),
    [
        ({"rig": LEAD_OFF, "tool": "eye", "device": "horn", "reads": "works"}, 1.0),
        ({"rig": LEAD_OFF, "tool": "voltmeter", "probe": "horn.1", "reads": 9}, 9.0),
    ],
)
def test_what_no_other_tool_says_as_well_is_read_again(
    given: Given, stands: float
) -> None:
    weighing = weighed(given)
    _, ranked = settled(weighing)
    assert ranked is not None
    assert ranked.test == weighing.findings[0].test
    assert abs(ranked.shown[1]) == stands


def test_doubts_that_read_alike_everywhere_are_not_told_apart() -> None:
    weighing = weighed(DEAD_HORN, WORKS)
    dead = Supposed(AS_DRAWN, (Fault("device:horn", "dead"),))
    twice = [Weighed(((dead, 1.0),), (name,), 0.5) for name in ("f1", "f2")]
    around = surroundings(bike(), weighing.findings)
    assert settling(weighing.sets, weighing.belief(), twice, around) is None


def test_every_way_of_every_doubt_is_a_hypothesis() -> None:
    one = Supposed(AS_DRAWN, (Fault("device:horn", "dead"),))
    other = Supposed(AS_DRAWN, (Fault("wire:5", "open"),))
    doubts = [
        Weighed(((one, 0.75), (other, 0.25)), ("f1",), 0.9),
        Weighed(((Supposed(AS_DRAWN), 1.0),), ("f2",), 0.1),
    ]
    supposed, labels, share = hypotheses(doubts)
    assert supposed == [one, other, Supposed(AS_DRAWN)]
    assert labels.tolist() == [0, 0, 1]
    assert np.allclose(share, [0.75, 0.25, 1.0])
