"""Readings from the table against circuits with fault and instrument wired in."""

from collections.abc import Callable
from functools import cache

import numpy as np
import pytest

from harness import readings
from harness.circuit import FloatArray, IntArray
from harness.consumers import ordinary_rigs
from harness.model import Harness
from harness.predictions import lead_off, predictions_for
from harness.readings import (
    OPEN_ABOVE_OHM,
    lamp_read_directly,
    ohmmeter_ohm,
    voltmeter_v,
)
from harness.rig import Rig, rig_from
from harness.tables import RigTable, solve_faults
from tests.harness.direct import Bench
from tests.harness.library import LOOMS, loom
from tests.harness.small_looms import (
    ON,
    brown_out,
    horn_and_tail,
    positive_earth,
    relay_and_charger,
    starter,
)

# What no meter on a bench would see: how far table and circuit may lie apart. Between
# islands the table's leak of 1e11 ohm lets the meter's 10 megohm see 1.3 mV of 12.6 V.
VOLTS_APART = 1e-3
VOLTS_APART_AFLOAT = 2e-3
LAMP_VOLTS_APART = 0.1
OHMS_APART_RATIO = 0.01
OHMS_APART = 1e-4

SMALL = {
    "horn and tail": horn_and_tail,
    "relay and charger": relay_and_charger,
    "relay and charger, positive earth": lambda: positive_earth(relay_and_charger()),
    "starter": starter,
}

Read = Callable[[RigTable, IntArray, IntArray, IntArray], FloatArray]
TOOLS: dict[str, Read] = {
    "voltmeter": voltmeter_v,
    "test-lamp": readings.test_lamp_v,
    "ohmmeter": ohmmeter_ohm,
}


@cache
def bike(name: str) -> Harness:
    return SMALL[name]() if name in SMALL else loom(name)


def directly(bench: Bench, tool: str, probe: str, clip: str) -> float:
    read = {
        "voltmeter": bench.voltmeter,
        "test-lamp": bench.lamp,
        "ohmmeter": bench.ohmmeter,
    }
    return read[tool](probe, clip)


def agree(tool: str, table: float, circuit: float) -> bool:
    if not (np.isfinite(table) and np.isfinite(circuit)):
        return bool(np.array_equal([table], [circuit], equal_nan=True))
    apart = abs(table - circuit)
    if tool == "ohmmeter":
        return apart <= max(OHMS_APART_RATIO * circuit, OHMS_APART)
    if tool == "test-lamp":
        return apart <= LAMP_VOLTS_APART
    return apart <= (VOLTS_APART if abs(circuit) > 1e-4 else VOLTS_APART_AFLOAT)


def sampled(
    h: Harness, tool: str, *, rigs: int, faults: int, pairs: int, seed: int
) -> list[tuple[str, float, float]]:
    """Return what was read, from the table, and from a circuit of its own."""
    random = np.random.default_rng(seed)
    known = predictions_for(h)
    every = (lead_off(h),) if tool == "ohmmeter" else ordinary_rigs(h)
    chosen = random.permutation(len(every))[:rigs].tolist()
    found = []
    for rig in (every[i] for i in chosen):
        table = known.table(rig)
        rows = random.permutation(len(known.faults))[:faults]
        for _ in range(pairs):
            probe, clip = random.choice(h.terminals, size=2, replace=False).tolist()
            nodes = [np.array([table.net.node_of[t]]) for t in (probe, clip)]
            shown = TOOLS[tool](table, rows, *nodes)[:, 0].tolist()
            for row, value in zip(rows.tolist(), shown, strict=True):
                bench = Bench(h, rig, known.faults[row], known.opened[row])
                what = f"{tool} {rig.as_mapping()} {probe} {clip} {known.faults[row]}"
                found.append((what, value, directly(bench, tool, probe, clip)))
    return found


def apart(tool: str, found: list[tuple[str, float, float]]) -> list[object]:
    return [row for row in found if not agree(tool, row[1], row[2])]


@pytest.mark.parametrize("tool", TOOLS)
@pytest.mark.parametrize("file", LOOMS)
def test_on_a_whole_bike_the_table_reads_what_a_circuit_would(
    file: str, tool: str
) -> None:
    found = sampled(bike(file), tool, rigs=6, faults=6, pairs=2, seed=len(file + tool))
    assert found
    assert apart(tool, found) == []


@pytest.mark.parametrize("tool", TOOLS)
@pytest.mark.parametrize("name", SMALL)
def test_on_a_small_loom_the_table_reads_what_a_circuit_would(
    name: str, tool: str
) -> None:
    found = sampled(bike(name), tool, rigs=4, faults=12, pairs=4, seed=len(name + tool))
    assert len(found) > 40
    assert apart(tool, found) == []


def nodes(table: RigTable, *terminals: str) -> tuple[IntArray, ...]:
    return tuple(np.array([table.net.node_of[t]]) for t in terminals)


def healthy(h: Harness, rig: object) -> RigTable:
    return solve_faults(h, rig_from(h, rig), [None])


ROW = np.array([0])


def test_the_test_lamp_is_three_watts_at_nominal_volts() -> None:
    assert readings.test_lamp_ohm(12.0) == pytest.approx(48.0)
    assert readings.test_lamp_ohm(6.0) == pytest.approx(12.0)
    table = healthy(bike("horn and tail"), {})
    volts = readings.test_lamp_v(
        table, ROW, *nodes(table, "battery.pos", "battery.neg")
    )
    assert float(volts[0, 0]) == pytest.approx(12.6 * 48 / (48 + 0.02))


def test_a_voltmeter_turned_round_shows_the_opposite() -> None:
    table = healthy(bike("horn and tail"), ON)
    there = voltmeter_v(table, ROW, *nodes(table, "key-switch.15", "frame.horn"))
    back = voltmeter_v(table, ROW, *nodes(table, "frame.horn", "key-switch.15"))
    assert float(there[0, 0]) == pytest.approx(-float(back[0, 0]))
    assert float(there[0, 0]) > 12


def test_an_ohmmeter_sees_the_cold_filament_and_says_open_over_a_megohm() -> None:
    # L16 (calc from L14): cold, a 21 W 12 V lamp has 0.45 to 0.70 ohm; 0.57 here.
    h = bike("horn and tail")
    table = healthy(h, {"battery-lead": "off"})
    cold = ohmmeter_ohm(table, ROW, *nodes(table, "rear-lamp.S", "rear-lamp.E"))
    assert 0.45 < float(cold[0, 0]) < 0.70
    apart = ohmmeter_ohm(table, ROW, *nodes(table, "horn.1", "key-switch.15"))
    assert np.isinf(apart[0, 0])
    assert OPEN_ABOVE_OHM == 1e6


def test_the_test_lamp_in_series_with_a_bulb_lights_it_a_little_or_not() -> None:
    # A lamp from the feed to a dead bulb's feed pin: the bulb's cold filament is no
    # hindrance, so that the test lamp takes nearly all the volts.
    h = bike("horn and tail")
    table = healthy(h, {})
    shown = readings.test_lamp_v(
        table, ROW, *nodes(table, "battery.pos", "rear-lamp.S")
    )
    direct = Bench(h, Rig(positions=rig_from(h, {}).positions)).lamp(
        "battery.pos", "rear-lamp.S"
    )
    assert float(shown[0, 0]) == pytest.approx(direct, abs=0.01)
    assert direct > 11


def test_a_lamp_that_pulls_a_relay_in_is_read_with_the_relay_in() -> None:
    # From the feed to the coil's own feed pin, across an open switch: the lamp's 48 ohm
    # in series with 80 leave the coil 7.8 V, and it pulls in at 7.2.
    h = bike("relay and charger")
    table = healthy(h, {})
    shown = readings.test_lamp_v(table, ROW, *nodes(table, "fuse.2", "relay.86"))
    bench = Bench(h, rig_from(h, {}))
    assert float(shown[0, 0]) == pytest.approx(
        bench.lamp("fuse.2", "relay.86"), abs=0.1
    )
    node = table.net.node_of
    read = lamp_read_directly(table.net, node["fuse.2"], node["relay.86"], 12.0)
    assert read == pytest.approx(bench.lamp("fuse.2", "relay.86"))


def test_nothing_is_read_where_the_bike_finds_no_rest() -> None:
    # A very bad contact before a relay: pulled in, the load starves its own coil.
    h = brown_out()
    known = predictions_for(h)
    rig = rig_from(h, {"switch": "ON"})
    table = known.table(rig)
    rows = np.arange(len(known.faults))
    shown = voltmeter_v(table, rows, *nodes(table, "relay.86", "frame.battery"))[:, 0]
    restless = [
        known.faults[row]
        for row in rows.tolist()
        if np.isnan(
            Bench(h, rig, known.faults[row], known.opened[row]).drop(
                "relay.86", "frame.battery"
            )
        )
    ]
    assert [known.faults[row] for row in np.flatnonzero(np.isnan(shown))] == restless
    assert {f.segment for f in restless if f} >= {"plug:plug.1", "wire:1"}
    assert {f.mode for f in restless if f} == {"resistive"}
