"""A conclusion that hangs on one reading wants another."""

import json

import numpy as np

from harness.conflict.confirming import (
    DOUBTED_TIMES,
    confirming,
    doubtfully,
    hangs_on,
)
from harness.conflict.doubts import conflict_in
from harness.minutes import surroundings
from harness.rehearsal.answers import answer
from harness.segments import Fault
from harness.weighing import Weighing
from tests.harness.conflict.cases import TAIL, Given, bike, case_of, weighed
from tests.harness.small_looms import DEAD_HORN, HORN

# The horn is dead, and volts at its return say that the return is off.
REPORT: tuple[Given, ...] = (DEAD_HORN, {**TAIL, "reads": "works"})
AT_RETURN: Given = {"rig": HORN, "tool": "voltmeter", "probe": "horn.2"}
LONE: Given = {**AT_RETURN, "reads": 12.4}
RETURN_OFF = Fault("wire:5", "open")
DEAD_INSIDE = Fault("device:horn", "dead")
MOST_ASKED = 5


def gone_on(fault: Fault) -> Weighing:
    """Return the hunt after every reading still asked for, on a bike with a fault."""
    weighing = weighed(*REPORT, LONE)
    for _ in range(MOST_ASKED):
        around = surroundings(bike(), weighing.findings)
        ranked = confirming(weighing.sets, weighing.belief(), around)
        if ranked is None:
            break
        shown = float(weighing.sets.shown([ranked.test], [(fault,)])[0, 0])
        name = f"again-{len(weighing.findings)}"
        weighing.add(answer(bike(), ranked.test, shown, id_=name))
    return weighing


def test_one_reading_settles_it_but_one_more_is_asked_for() -> None:
    weighing = weighed(*REPORT, LONE)
    belief = weighing.belief()
    assert belief.by_segment()["wire:5"] > 0.95
    around = surroundings(bike(), weighing.findings)
    ranked = confirming(weighing.sets, belief, around)
    assert ranked is not None
    assert ranked.test not in around.taken


def test_when_further_readings_agree_no_more_is_asked_for() -> None:
    weighing = gone_on(RETURN_OFF)
    assert len(REPORT) + 1 < len(weighing.findings) < len(REPORT) + 1 + MOST_ASKED
    belief = weighing.belief()
    assert belief.by_segment()["wire:5"] > 0.99
    assert conflict_in(bike(), belief) is None


def test_when_it_was_a_slip_the_next_readings_bring_it_out() -> None:
    # The return is whole, and the horn dead inside: there never were volts at it.
    belief = gone_on(DEAD_INSIDE).belief()
    found = conflict_in(bike(), belief)
    assert found is not None
    assert found.sets[0] == ("f3",)
    assert belief.sets[belief.top] == (DEAD_INSIDE,)


def test_who_trusts_no_reading_much_believes_less_but_of_the_same_things() -> None:
    belief = weighed(*REPORT, LONE).belief()
    doubtful = doubtfully(bike(), belief)
    assert doubtful.sets == belief.sets
    assert (doubtful.log_likelihood >= belief.log_likelihood).all()
    assert doubtful.probability[belief.top] < belief.probability[belief.top]
    trusting = doubtfully(bike(), belief, times=1e-9)
    assert np.allclose(trusting.probability, belief.probability)
    assert DOUBTED_TIMES > 1


def test_without_findings_there_is_nothing_to_confirm_but_all_to_find_out() -> None:
    weighing = weighed()
    around = surroundings(bike(), ())
    assert confirming(weighing.sets, weighing.belief(), around) is not None


def test_a_return_that_is_off_shown_twice_needs_no_more() -> None:
    lamp: Given = {"rig": HORN, "tool": "test-lamp", "probe": "horn.2", "reads": "lit"}
    weighing = weighed(*REPORT, LONE, lamp)
    around = surroundings(bike(), weighing.findings)
    assert confirming(weighing.sets, weighing.belief(), around) is None


def test_the_finding_that_a_conclusion_hangs_on_and_its_rival_are_named() -> None:
    belief = weighed(*REPORT, LONE).belief()
    assert hangs_on(belief, ["wire:5"]) == ("f3", (DEAD_INSIDE,))


def test_a_case_offers_the_test_once_the_hunt_is_over_and_says_why() -> None:
    assert case_of(*REPORT).confirming() is None
    case = case_of(*REPORT, LONE)
    assert case.isolated() is not None
    found = case.confirming()
    assert found is not None
    assert json.loads(json.dumps(found)) == found
    assert found["hangs_on"] == "f3"
    assert found["reason"].startswith("It hangs on f3 alone: were that a slip, it")
    means = [outcome["means"] for outcome in found["outcomes"]]
    assert any("wire 5" in words.lower() for words in means)
    assert any("horn is dead inside" in words.lower() for words in means)
    assert found["steps"]
    lamp: Given = {"rig": HORN, "tool": "test-lamp", "probe": "horn.2", "reads": "lit"}
    assert case_of(*REPORT, LONE, lamp).confirming() is None
