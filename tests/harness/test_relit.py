"""Filaments that a test lamp lights or dims, settled anew with the lamp in."""

from collections.abc import Mapping
from functools import cache

import numpy as np
import pytest

from harness.faults import Fault
from harness.model import Harness
from harness.relit import MOVES_A_FILAMENT, volts_over
from harness.rig import rig_from
from harness.sets import FaultSet
from harness.thevenin import Between
from tests.harness.compared import fresh_table, from_table
from tests.harness.direct import Bench
from tests.harness.faulty_looms import LAMP_OHM
from tests.harness.small_looms import (
    BRAKE,
    ON,
    PARK,
    bulbs_in_series,
    horn_and_tail,
)


@cache
def bike() -> Harness:
    return horn_and_tail()


def away(
    h: Harness, rig: Mapping[str, object], place: tuple[str, str], *faults: Fault
) -> float:
    """Return how far the table's lamp is from a circuit's, in volts."""
    placed = rig_from(h, rig)
    table = fresh_table(h, placed, [faults])
    shown = float(from_table(table, "test-lamp", place)[0])
    return abs(shown - Bench(h, placed, faults).lamp(*place))


@pytest.mark.parametrize("count", [2, 4, 8])
def test_a_lamp_across_one_of_some_bulbs_in_series_dims_it_and_lights_the_others(
    count: int,
) -> None:
    h = bulbs_in_series(count)
    for k in range(1, count + 1):
        assert away(h, {}, (f"bulb-{k:02}.1", f"bulb-{k:02}.2")) < 4e-3


def test_a_lamp_in_the_feed_of_a_bulb_lights_both_a_little() -> None:
    # The tail lamp's feed is off at its plug: the test lamp bridges it. 5 W and 3 W in
    # a row: by hand, the filament's law at each volt tried, 4.6 V for the 5 W one.
    cut = Fault("plug:tail-plug.1", "open")
    place = ("tail-plug.1a", "tail-plug.1b")
    assert away(bike(), PARK, place, cut) < 1e-3
    shown = Bench(bike(), rig_from(bike(), PARK), (cut,)).lamp(*place)
    amps = shown / LAMP_OHM
    law = 5 / 12 * ((12.6 - shown) / 12) ** 0.55
    assert amps == pytest.approx(law, rel=0.01)


def test_a_filament_that_only_the_fault_has_lit_is_settled_all_the_same() -> None:
    # The stop lamp burns through a stuck switch, behind a bad contact; in the healthy
    # bike it is cold, and would take the lamp's volts for nothing.
    stuck = Fault("switch:brake-switch.PRESSED.1-2", "stuck")
    bad = Fault("wire:8", "resistive", 3.0)
    for place in (("brake-switch.2", "frame.horn"), ("rear-lamp.S", "rear-lamp.E")):
        assert away(bike(), ON, place, stuck, bad) < 2e-3


def test_a_filament_that_the_fault_has_put_out_is_as_cold_as_it_is() -> None:
    for fault in (Fault("wire:9", "open"), Fault("fuse:main-fuse", "blown")):
        for place in (("rear-lamp.S", "frame.horn"), ("battery.pos", "rear-lamp.S")):
            assert away(bike(), BRAKE, place, fault) < 2e-3


def between(rig: Mapping[str, object], place: tuple[str, str]) -> Between:
    sets: list[FaultSet] = [(), (Fault("wire:11", "resistive", 3.0),)]
    table = fresh_table(bike(), rig_from(bike(), rig), sets)
    rows = np.concatenate([group.rows for group in table.groups])
    assert len(table.groups) <= 2
    probe, clip = (np.array([table.net.node_of[end]]) for end in place)
    group = table.groups[int(table.group_of[1])]
    assert 1 in rows
    inside = table.row_in_group[[1]]
    return Between.of(group, inside, probe, clip)


def test_a_voltmeter_moves_no_filament_and_a_lamp_only_those_it_reaches() -> None:
    at_lamp = between(BRAKE, ("rear-lamp.E", "frame.horn"))
    _, moved = volts_over(at_lamp, 1e7)
    assert moved is None
    _, moved = volts_over(at_lamp, LAMP_OHM)
    assert moved is not None
    # The lamp stands beside the bad return of both filaments.
    assert len(moved.which) == 2
    at_battery = between(BRAKE, ("battery.pos", "battery.neg"))
    shown, moved = volts_over(at_battery, LAMP_OHM)
    dropped_v = 0.02 * float(shown[0, 0]) / LAMP_OHM
    assert dropped_v < MOVES_A_FILAMENT * 12
    assert moved is None
