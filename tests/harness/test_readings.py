"""Readings from the table against circuits with faults and instrument wired in."""

from functools import cache

import numpy as np
import pytest

from harness import readings
from harness.faults import Fault
from harness.model import Harness
from harness.predictions import predictions_for
from harness.readings import (
    OPEN_ABOVE_OHM,
    voltmeter_v,
)
from harness.rig import rig_from
from tests.harness.compared import (
    TOOLS,
    Asked,
    apart,
    fresh_table,
    from_circuit,
    from_table,
)
from tests.harness.direct import Bench
from tests.harness.faulty_looms import (
    EMF_V,
    LAMP_OHM,
    SOURCE_OHM,
    behind_diodes,
    changeover,
    shut,
    side_by_side,
    switched_both_ends,
)
from tests.harness.library import EVERY_LOOM, loom
from tests.harness.readout import read
from tests.harness.small_looms import (
    LEAD_OFF,
    ON,
    brown_out,
    horn_and_tail,
    positive_earth,
    relay_and_charger,
    starter,
)

SMALL = {
    "horn and tail": horn_and_tail,
    "relay and charger": relay_and_charger,
    "relay and charger, positive earth": lambda: positive_earth(relay_and_charger()),
    "starter": starter,
    "brown-out": brown_out,
    "side by side": side_by_side,
    "changeover": changeover,
    "switched both ends": switched_both_ends,
    "behind diodes": behind_diodes,
}


@cache
def bike(name: str) -> Harness:
    return SMALL[name]() if name in SMALL else loom(name)


# --- As if each were read by itself ------------------------------------------------


@pytest.mark.parametrize("tool", TOOLS)
@pytest.mark.parametrize("file", EVERY_LOOM)
def test_on_a_whole_bike_the_table_reads_what_a_circuit_would(
    file: str, tool: str
) -> None:
    h = bike(file)
    asked = Asked.of(h, tool, sets=15, places=2, rigs=2, seed=len(file + tool))
    found = asked.compare(h, tool)
    assert len(found) >= 16 * 2
    assert apart(h, tool, found) == []


@pytest.mark.parametrize("tool", TOOLS)
@pytest.mark.parametrize("name", SMALL)
def test_on_a_small_loom_the_table_reads_what_a_circuit_would(
    name: str, tool: str
) -> None:
    h = bike(name)
    asked = Asked.of(h, tool, sets=24, places=2, rigs=2, seed=len(name + tool))
    assert apart(h, tool, asked.compare(h, tool)) == []


# --- By hand: what an instrument is -------------------------------------------------


def test_the_test_lamp_is_three_watts_at_nominal_volts() -> None:
    assert readings.test_lamp_ohm(12.0) == pytest.approx(LAMP_OHM)
    assert readings.test_lamp_ohm(6.0) == pytest.approx(12.0)
    h = bike("horn and tail")
    shown = read(h, {}, "test-lamp", ("battery.pos", "battery.neg"))
    assert shown == pytest.approx(12.6 * 48 / (48 + 0.02))


def test_a_voltmeter_turned_round_shows_the_opposite() -> None:
    h = bike("horn and tail")
    there = read(h, ON, "voltmeter", ("key-switch.15", "frame.horn"))
    assert there > 12
    assert read(h, ON, "voltmeter", ("frame.horn", "key-switch.15")) == pytest.approx(
        -there
    )


def test_an_ohmmeter_sees_the_cold_filament_and_says_open_over_a_megohm() -> None:
    # L16 (calc from L14): cold, a 21 W 12 V lamp has 0.45 to 0.70 ohm; 0.57 here.
    h = bike("horn and tail")
    table = fresh_table(h, rig_from(h, LEAD_OFF), [()])
    cold = from_table(table, "ohmmeter", ("rear-lamp.S", "rear-lamp.E"))
    assert 0.45 < float(cold[0]) < 0.70
    away = from_table(table, "ohmmeter", ("horn.1", "key-switch.15"))
    assert np.isinf(away[0])
    assert OPEN_ABOVE_OHM == 1e6


def test_the_test_lamp_in_series_with_a_bulb_takes_nearly_all_the_volts() -> None:
    # From the feed to a dead bulb's feed pin: its cold filament is no hindrance.
    h = bike("horn and tail")
    assert read(h, {}, "test-lamp", ("battery.pos", "rear-lamp.S")) > 11


def test_nothing_is_read_where_the_bike_finds_no_rest() -> None:
    # A very bad contact before a relay: pulled in, the load starves its own coil.
    h = brown_out()
    known = predictions_for(h)
    rig = rig_from(h, {"switch": "ON"})
    table = known.table(rig)
    rows = np.arange(len(known.faults))
    place = "relay.86", "frame.battery"
    nodes = [np.array([table.net.node_of[end]]) for end in place]
    shown = voltmeter_v(table, rows, nodes[0], nodes[1])[:, 0]
    restless = []
    for row in rows.tolist():
        fault = known.faults[row]
        bench = Bench(h, rig, () if fault is None else (fault,), known.opened[row])
        if np.isnan(from_circuit(bench, "voltmeter", place)):
            restless.append(fault)
    assert [known.faults[row] for row in np.flatnonzero(np.isnan(shown))] == restless
    assert {f.segment for f in restless if f} >= {"plug:plug.1", "wire:1"}
    assert {f.mode for f in restless if f} == {"resistive"}


# --- By hand: the clamp -------------------------------------------------------------


def test_a_clamp_counts_what_runs_from_where_the_wire_begins() -> None:
    h = bike("side by side")
    rig = shut("right")
    drawn = EMF_V / (SOURCE_OHM + 0.075 + 6)
    assert read(h, rig, "ammeter", ("7",)) == pytest.approx(drawn)
    # The earth lead runs from the battery to the frame: what comes home is less than 0.
    assert read(h, rig, "ammeter", ("earth",)) == pytest.approx(-drawn)


def test_the_readings_are_those_that_were_asked_for_in_their_order() -> None:
    h = bike("side by side")
    table = fresh_table(h, rig_from(h, shut("right")), [(), (Fault("wire:7", "open"),)])
    node = table.net.node_of
    probe = np.array([node["heater-right.1"], node["plug.2b"], node["fuse.1"]])
    clip = np.full(3, table.net.reference)
    shown = readings.test_lamp_v(table, np.array([1, 0, 1]), probe, clip)
    assert shown.shape == (3, 3)
    assert shown[0].tolist() == shown[2].tolist()
    assert (shown[0] > 12).tolist() == [False, True, True]
    assert (shown[1] > 12).all()
