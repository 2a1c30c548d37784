"""What the current of an instrument turns over, by hand.

The looms are those of `faulty_looms.py`.
"""

import numpy as np
import pytest

from harness.faults import Fault
from harness.readings import (
    VOLTMETER_OHM,
    lamp_read_directly,
)
from harness.rig import rig_from
from tests.harness.compared import (
    fresh_table,
    from_table,
)
from tests.harness.direct import Bench
from tests.harness.faulty_looms import (
    EMF_V,
    LAMP_OHM,
    SOURCE_OHM,
    behind_diodes,
    changeover,
    near_its_limit,
    parallel,
    self_shorting,
    shut,
)
from tests.harness.readout import read


def test_a_meter_behind_a_diode_reads_the_feed_less_its_drop() -> None:
    h = behind_diodes()
    # Fed, with nothing after it: the meter's own current opens the diode.
    for load in ("load-a.1", "load-b.2"):
        assert read(
            h, shut("feed"), "voltmeter", (load, "frame.return")
        ) == pytest.approx(EMF_V - 0.7, abs=1e-3)


def test_a_meter_against_a_diode_reads_nothing() -> None:
    h = behind_diodes()
    rig = shut("feed", "return")
    # The feed wire of one diode is off: its feed pin hangs on a diode to the load.
    cut = Fault("wire:2", "open")
    assert read(
        h, rig, "voltmeter", ("diode-a.a", "frame.return"), cut
    ) == pytest.approx(0.0, abs=1e-4)
    # The other way it is the meter that opens the diode. Load b draws meanwhile, and
    # the battery, its earth, the return switch and wire 8 take their share.
    drawn = (EMF_V - 0.7) / (SOURCE_OHM + 0.01 * 7 + 0.05 + 20)
    assert read(
        h, rig, "voltmeter", ("battery.pos", "diode-a.a"), cut
    ) == pytest.approx(EMF_V - 0.7 - drawn * (SOURCE_OHM + 0.02), abs=1e-4)


def test_a_lamp_that_opens_two_diodes_at_once_is_read_with_both_open() -> None:
    h = behind_diodes()
    way_a = 0.01 + 0.05 + 0.01 + 10 + 0.01
    way_b = 0.01 + 0.05 + 0.01 + 20 + 0.01
    inner = SOURCE_OHM + parallel(way_a, way_b) + 0.01 + 0.01
    assert read(
        h, shut("return"), "test-lamp", ("battery.pos", "feed.2")
    ) == pytest.approx((EMF_V - 0.7) * LAMP_OHM / (LAMP_OHM + inner), abs=1e-3)


def test_a_lamp_that_overloads_a_fuse_is_read_with_the_fuse_gone() -> None:
    h = near_its_limit()
    before = EMF_V / (SOURCE_OHM + 0.01 + 0.01 + 0.01 + 4.8 + 0.01)
    assert before < 2.0 * 1.35 < before + EMF_V / (LAMP_OHM + 4.8)
    place = ("heater.1", "frame.heater")
    assert read(h, {}, "voltmeter", place) == pytest.approx(before * 4.81, abs=1e-4)
    assert read(h, {}, "test-lamp", place) == pytest.approx(0.0, abs=1e-6)
    # With a bad contact in it the fuse has room for the lamp.
    bad = Fault("fuse:fuse", "resistive", 0.3)
    assert read(h, {}, "test-lamp", place, bad) > 11


def test_a_lamp_that_pulls_a_relay_in_is_read_with_the_relay_in() -> None:
    # From the feed to the coil's own feed pin, across an open switch: the lamp's 48 ohm
    # in series with 80 leave the coil 7.8 V, and it pulls in at 7.2.
    h = changeover()
    place = ("battery.pos", "relay.86")
    shown = read(h, {}, "test-lamp", place)
    heater = 0.01 + 0.01 + 0.01 + 4 + 0.01
    coil = LAMP_OHM + 80 + 0.01
    at_post = EMF_V * parallel(heater, coil) / (SOURCE_OHM + parallel(heater, coil))
    assert shown == pytest.approx(at_post * LAMP_OHM / coil)
    # With the other heater it draws less: the relay must have changed over.
    table = fresh_table(h, rig_from(h, {}), [()])
    node = table.net.node_of
    alone = lamp_read_directly(table.net, node["battery.pos"], node["relay.86"], 12.0)
    assert alone == pytest.approx(shown)


def test_a_relay_that_has_pulled_in_holds_with_a_lamp_beside_its_coil() -> None:
    # 30 ohm in the coil's feed leave 9.2 V, the lamp 6.9: less than the 7.2 at which it
    # would pull in. It was in before the lamp came, and holds down to 2.9.
    h = changeover()
    bad = Fault("wire:3", "resistive", 30.0)
    rig, place = shut("switch"), ("relay.86", "frame.relay")
    coil_and_lamp = parallel(LAMP_OHM, 80.01)
    shown = read(h, rig, "test-lamp", place, bad)
    assert shown == pytest.approx(
        EMF_V * coil_and_lamp / (coil_and_lamp + 30.03), abs=0.1
    )
    assert shown < 7.2
    assert read(h, rig, "ammeter", ("5",), bad) > 3.0
    table = fresh_table(h, rig_from(h, rig), [(bad,)])
    net = Bench(h, rig_from(h, rig), (bad,)).net
    node = net.node_of
    from_rest = lamp_read_directly(net, node[place[0]], node[place[1]], 12.0)
    held = float(from_table(table, "test-lamp", place)[0])
    assert held == pytest.approx(shown)
    assert from_rest > held + 0.01, "from rest it would not have pulled in at all"


def test_nothing_is_read_where_the_lamp_makes_a_relay_buzz() -> None:
    # Through the lamp the coil gets 7.9 V and pulls in; its contact then shorts it.
    h = self_shorting()
    table = fresh_table(h, rig_from(h, {}), [()])
    place = "battery.pos", "relay.86"
    assert np.isnan(from_table(table, "test-lamp", place)[0])
    assert np.isnan(Bench(h, rig_from(h, {})).lamp(*place))
    meter = float(from_table(table, "voltmeter", place)[0])
    assert meter == pytest.approx(EMF_V * VOLTMETER_OHM / (VOLTMETER_OHM + 80))
