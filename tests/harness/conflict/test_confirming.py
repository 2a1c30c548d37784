"""A conclusion that hangs on one reading wants another."""

import numpy as np

from harness.conflict.confirming import DOUBTED_TIMES, confirming, doubtfully
from harness.conflict.doubts import conflict_in
from harness.minutes import surroundings
from harness.rehearsal.answers import answer
from harness.segments import Fault
from harness.weighing import Weighing
from tests.harness.conflict.cases import DEAD_HORN, TAIL, Given, bike, weighed
from tests.harness.small_looms import BRAKE, HORN, ON

STOP: Given = {"rig": BRAKE, "tool": "eye", "device": "rear-lamp.stop"}
HORN_WORKS: Given = {**DEAD_HORN, "reads": "works"}
# All else works, and a lamp across the tail filament is lit: it must be the bulb.
REPORT = (HORN_WORKS, {**TAIL, "reads": "dead"}, {**STOP, "reads": "works"})
LIT_ACROSS: Given = {
    "rig": ON,
    "tool": "test-lamp",
    "probe": "rear-lamp.T",
    "clip": "rear-lamp.E",
    "reads": "lit",
}
BULB = Fault("device:rear-lamp.tail", "dead")
PLUG = Fault("plug:tail-plug.1", "open")
MOST_ASKED = 5


def gone_on(fault: Fault) -> Weighing:
    """Return the hunt after every reading still asked for, on a bike with a fault."""
    weighing = weighed(*REPORT, LIT_ACROSS)
    for _ in range(MOST_ASKED):
        around = surroundings(bike(), weighing.findings)
        ranked = confirming(weighing.sets, weighing.belief(), around)
        if ranked is None:
            break
        shown = float(weighing.sets.shown([ranked.test], [(fault,)])[0, 0])
        name = f"again-{len(weighing.findings)}"
        weighing.add(answer(bike(), ranked.test, shown, id_=name))
    return weighing


def test_one_lit_lamp_settles_it_but_one_more_reading_is_asked_for() -> None:
    weighing = weighed(*REPORT, LIT_ACROSS)
    belief = weighing.belief()
    assert belief.sets[belief.top] == (BULB,)
    assert belief.probability[belief.top] > 0.9
    around = surroundings(bike(), weighing.findings)
    ranked = confirming(weighing.sets, belief, around)
    assert ranked is not None
    assert ranked.test not in around.taken


def test_when_further_readings_agree_no_more_is_asked_for() -> None:
    weighing = gone_on(BULB)
    assert len(weighing.findings) < 4 + MOST_ASKED
    belief = weighing.belief()
    assert belief.sets[belief.top] == (BULB,)
    assert conflict_in(bike(), belief) is None


def test_when_it_was_a_slip_the_next_readings_bring_it_out() -> None:
    # The plug's cavity is open; the lamp across the filament never was lit.
    belief = gone_on(PLUG).belief()
    found = conflict_in(bike(), belief)
    assert found is not None
    assert found.sets[0] == ("f4",)
    assert belief.sets[belief.top] == (PLUG,)


def test_who_trusts_no_reading_much_believes_less_but_of_the_same_things() -> None:
    belief = weighed(*REPORT, LIT_ACROSS).belief()
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


def test_a_horn_with_its_return_off_shown_twice_needs_no_more() -> None:
    volts: Given = {"rig": HORN, "tool": "voltmeter", "probe": "horn.2"}
    lamp: Given = {"rig": HORN, "tool": "test-lamp", "probe": "horn.2", "reads": "lit"}
    weighing = weighed(
        DEAD_HORN, {**TAIL, "reads": "works"}, {**volts, "reads": 12.4}, lamp
    )
    around = surroundings(bike(), weighing.findings)
    assert confirming(weighing.sets, weighing.belief(), around) is None
