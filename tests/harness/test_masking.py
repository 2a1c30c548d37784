"""Which faults hide which: nothing is seen of what is bad behind an open feed."""

from functools import cache

import numpy as np
import pytest

from harness.faults import Fault
from harness.findings import Test
from harness.masking import HIDDEN_SHARE, Masking, masking
from harness.model import Harness
from harness.predictions import predictions_for
from harness.rig import Rig as At
from harness.rig import rig_from
from harness.sets import FaultSet
from tests.harness.enumeration import Enumeration
from tests.harness.library import Rig
from tests.harness.small_looms import BRAKE, HORN, LEAD_OFF, ON, horn_and_tail


@cache
def bike() -> Harness:
    return horn_and_tail()


def found(rig: Rig) -> Masking:
    return masking(bike(), rig_from(bike(), rig))


def hides(rig: Rig, one: Fault, other: Fault) -> bool:
    """Return whether the first fault hides the second."""
    faults, masks = predictions_for(bike()).faults, found(rig)
    pair = np.array([faults.index(one), faults.index(other)])
    hidden = bool(masks.hides(pair[:1], pair[1:])[0, 0])
    assert hidden is bool(masks.hidden(pair[1:], pair[:1])[0, 0])
    return hidden


HORN_WIRE, HORN_RETURN = Fault("wire:4", "open"), Fault("wire:5", "resistive", 3.0)
FEED = Fault("wire:2", "open")
BLOWN = Fault("fuse:main-fuse", "blown")
TAIL_WIRE = Fault("wire:7", "resistive", 30.0)
CHAFED = Fault("wire:3", "earthed")


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (FEED, HORN_RETURN),
        (BLOWN, HORN_WIRE),
        (HORN_WIRE, HORN_RETURN),
        # Open at either end of the horn, the other end carries nothing either.
        (Fault("wire:5", "open"), HORN_WIRE),
        # A chafed wire has blown the fuse, and so the feed is gone.
        (Fault("wire:6", "earthed"), HORN_WIRE),
        # A wire without volts does no harm where it is chafed.
        (FEED, CHAFED),
        (FEED, TAIL_WIRE),
    ],
)
def test_behind_an_open_feed_nothing_is_seen(one: Fault, other: Fault) -> None:
    assert hides(HORN, one, other)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        # A bad contact of 3 ohm leaves the horn more than half of its current.
        (HORN_RETURN, HORN_WIRE),
        (HORN_WIRE, TAIL_WIRE),
        (TAIL_WIRE, HORN_WIRE),
        (Fault("device:rear-lamp.tail", "dead"), HORN_WIRE),
    ],
)
def test_what_leaves_the_current_flowing_hides_nothing(
    one: Fault, other: Fault
) -> None:
    assert not hides(HORN, one, other)


def test_nothing_wrong_hides_nothing() -> None:
    for rig in ({}, ON, HORN, BRAKE):
        everything = np.arange(len(predictions_for(bike()).faults))
        assert not found(rig).hides(np.array([0]), everything).any()


@pytest.mark.parametrize("rig", [HORN, BRAKE], ids=str)
def test_a_wire_is_hidden_where_it_carries_little_of_what_it_should(rig: Rig) -> None:
    where, alone = rig_from(bike(), rig), Enumeration(bike())
    faults = predictions_for(bike()).faults
    wires = [Fault(f"wire:{name}", "open") for name in bike().wires]
    shown = [w for w in wires if faults.index(w) in found(rig).rows.tolist()]
    assert len(shown) >= 5
    sound = {w: carried(alone, where, (), w) for w in shown}
    for fault in faults[1::4]:
        assert fault is not None
        if fault.moved:
            continue
        for wire in shown:
            if wire.segment not in fault.segments:
                left = carried(alone, where, (fault,), wire) / sound[wire]
                assert hides(rig, fault, wire) is (left < HIDDEN_SHARE), (fault, wire)


def carried(alone: Enumeration, rig: At, faults: FaultSet, wire: Fault) -> float:
    """Return the size of the current in a wire, solved by itself."""
    name = wire.segment.partition(":")[2]
    return abs(alone.shown(Test(rig, "ammeter", wire=name), faults))


def test_what_carries_nothing_in_a_rig_is_not_among_those_hidden() -> None:
    shown = {predictions_for(bike()).faults[row] for row in found(ON).rows.tolist()}
    assert HORN_WIRE not in shown, "the button is out"
    assert TAIL_WIRE in shown
    # What would join two points of different volts shows without carrying anything.
    assert CHAFED in shown


def test_a_battery_is_never_hidden() -> None:
    rows = found(HORN).rows.tolist()
    kinds = {predictions_for(bike()).faults[row] for row in rows}
    assert not any(f is not None and f.segment == "battery:battery" for f in kinds)


def test_with_the_battery_off_no_current_is_there_to_be_hidden() -> None:
    # Of the wires by the feed post all that is left are the volts of the post itself.
    masks = found(LEAD_OFF)
    hidden = [predictions_for(bike()).faults[row] for row in masks.rows.tolist()]
    assert {f.mode for f in hidden if f} <= {"earthed", "crossed", "stuck", "shorted"}
    everything = np.arange(len(predictions_for(bike()).faults))
    never = np.setdiff1d(everything, masks.rows)
    assert not masks.hides(everything, never).any()
