"""A bike not as drawn reads as one built that way would."""

import numpy as np
import pytest

from harness.conflict.redrawing import Move, Redrawn, redrawings
from harness.conflict.supposed import (
    AS_DRAWN,
    Supposed,
    log_likelihood_if,
    shown_if,
)
from harness.findings import Test
from harness.predictions import lead_off, log_chance
from harness.rig import rig_from
from harness.segments import Fault
from harness.showing import shown
from harness.weighing import sets_for
from tests.harness.conflict.cases import bike, finding, rebuilt
from tests.harness.library import WREN, loom
from tests.harness.small_looms import BRAKE, DEAD_HORN, HORN, ON

OPEN = Fault("wire:5", "open")


@pytest.mark.parametrize(("part", "rig"), [(0, ON), (1, HORN), (2, BRAKE)])
def test_volts_are_those_of_a_loom_built_like_that(
    part: int, rig: dict[str, object]
) -> None:
    # Built anew from its wires and solved with the meter in, against edits of the
    # drawing.
    place = rig_from(bike(), rig)
    points = [t for t in bike().terminals if not t.startswith("frame")]
    clip = "frame.battery"
    tests = [Test(rig=place, tool="voltmeter", probe=t, clip=clip) for t in points]
    every = redrawings(bike(), bike().wires)[part::3]
    found = shown_if(sets_for(bike()), tests, [Supposed(one) for one in every])
    for column, redrawn in enumerate(every):
        built = rebuilt(bike(), redrawn)
        for row, point in enumerate(points):
            test = {"rig": rig, "tool": "voltmeter", "probe": point, "clip": clip}
            assert found[row, column] == pytest.approx(shown(built, test), abs=1e-4), (
                redrawn,
                point,
            )


def test_as_drawn_it_reads_as_the_faults_alone() -> None:
    sets = sets_for(bike())
    rig = rig_from(bike(), HORN)
    tests = [
        Test(rig=rig, tool="eye", device="horn"),
        Test(rig=rig, tool="test-lamp", probe="horn.2", clip="frame.battery"),
        Test(rig=rig, tool="ammeter", wire="4"),
        Test(rig=rig_from(bike(), {}), tool="eye", device="main-fuse"),
        Test(rig=lead_off(bike()), tool="ohmmeter", probe="horn.1", clip="horn.2"),
    ]
    faults = [(), (OPEN,), (Fault("device:rear-lamp.tail", "dead"), OPEN)]
    found = shown_if(sets, tests, [Supposed(AS_DRAWN, f) for f in faults])
    assert found == pytest.approx(sets.shown(tests, faults))


def test_a_fault_beside_a_moved_wire_counts_with_it() -> None:
    swapped = Redrawn((Move("4", "to", "horn.2"), Move("5", "from", "horn.1")))
    button = Fault("switch:horn-button.PRESSED.1-2", "open")
    rig = rig_from(bike(), HORN)
    volts = [
        Test(rig=rig, tool="voltmeter", probe=f"horn.{pin}", clip="frame.horn")
        for pin in "12"
    ]
    supposed = [Supposed(swapped), Supposed(swapped, (button,))]
    found = shown_if(sets_for(bike()), volts, supposed)
    assert found[:, 0] == pytest.approx([0.02, 12.3], abs=0.1)
    assert found[:, 1] == pytest.approx([0.0, 0.0], abs=0.1)


def test_a_clamp_round_a_moved_wire_says_nothing() -> None:
    moved = Supposed(Redrawn((Move("4", "to", "horn.2"),)))
    rig = rig_from(bike(), HORN)
    clamps = [Test(rig=rig, tool="ammeter", wire=w) for w in ("4", "1")]
    amps = shown_if(sets_for(bike()), clamps, [moved, Supposed(AS_DRAWN)])
    assert np.isnan(amps).tolist() == [[True, False], [False, False]]


def test_findings_are_weighed_by_what_is_shown() -> None:
    sets, dead = sets_for(bike()), finding(DEAD_HORN)
    supposed = [Supposed(AS_DRAWN), Supposed(AS_DRAWN, (OPEN,))]
    logs = log_likelihood_if(sets, [dead], supposed)
    share = sets.shown([dead.test], [(), (OPEN,)])[0]
    assert logs[0] == pytest.approx(log_chance(bike(), dead, share))
    assert log_likelihood_if(sets, [], supposed).shape == (0, 2)


def test_every_drawing_of_a_small_case_loom_can_be_solved() -> None:
    h = loom(WREN)
    lights = {"light-switch": "ON"}
    look = Test(rig=rig_from(h, lights), tool="eye", device="tail-lamp")
    supposed = [Supposed(one) for one in redrawings(h, h.wires)]
    share = shown_if(sets_for(h), [look], supposed)[0]
    assert np.isfinite(share).all()
    assert share.min() < 0.1
    assert share.max() == pytest.approx(1.0, abs=0.02)
