"""Faults that join what should be apart: what each does, worked out by hand.

The looms are those of `faulty_looms.py`; the figures must come out both of one circuit
with the fault put in and of the tables of all faults.
"""

from functools import cache

import pytest

from harness.edits import CHAFED_OHM
from harness.faults import (
    Fault,
    with_fault,
)
from harness.model import Harness
from harness.network import compile_network
from harness.rig import rig_from
from tests.harness.faulty_looms import (
    EMF_V,
    LEFT,
    RIGHT,
    SOURCE_OHM,
    TO_PLUG,
    TOUCH_OHM,
    boxed,
    changeover,
    parallel,
    shut,
    side_by_side,
)
from tests.harness.readout import amps, is_untouched, read, volts
from tests.harness.small_looms import (
    HORN,
    PARK,
    horn_and_tail,
    relay_and_charger,
    starter,
)

BOTH = shut("left", "right")


@cache
def bike() -> Harness:
    return horn_and_tail()


@cache
def heaters() -> Harness:
    return side_by_side()


def test_a_chafed_feed_meets_the_body_at_its_middle_and_melts_the_fuse() -> None:
    net = compile_network(bike(), rig_from(bike(), HORN))
    chafed = with_fault(bike(), net, Fault("wire:6", "earthed"))
    assert len(chafed.nodes) == len(net.nodes) + 1
    assert chafed.g_s[-1] == pytest.approx(1 / CHAFED_OHM)
    assert chafed.node_of["frame.horn"] == chafed.b[-1]
    k = net.branch_of["wire:6"]
    assert chafed.g_s[[k, -2]] == pytest.approx([2 * net.g_s[k]] * 2)
    fault = Fault("wire:6", "earthed")
    assert volts(heaters(), shut("left"), "fuse.2", fault) == pytest.approx(0.0)


def test_a_chafed_return_takes_a_second_way_home() -> None:
    # The half behind the chafe, plug and wire 9, 0.02 ohm, beside 0.05 of metal.
    fault = Fault("wire:8", "earthed")
    way = LEFT - 0.02 + parallel(0.02, TOUCH_OHM)
    drawn = EMF_V / (SOURCE_OHM + way)
    assert amps(heaters(), shut("left"), "8", fault) == pytest.approx(drawn)
    assert amps(heaters(), shut("left"), "9", fault) == pytest.approx(
        drawn * TOUCH_OHM / (TOUCH_OHM + 0.02)
    )


def test_a_clamp_reads_the_half_of_a_chafed_wire_at_which_the_wire_begins() -> None:
    # Wire 1 from the battery's own post, before any fuse: its first half carries all.
    fault = Fault("wire:1", "earthed")
    short = EMF_V / (SOURCE_OHM + 0.005 + TOUCH_OHM)
    assert amps(heaters(), {}, "1", fault) == pytest.approx(short)
    # The earth lead begins at the other post: the first half carries what comes home
    # by its far half and by the frame alike.
    there = amps(bike(), HORN, "13", Fault("wire:13", "earthed"))
    assert there == pytest.approx(amps(bike(), HORN, "13"), abs=0.02)


def test_two_wires_chafed_through_to_each_other_feed_both_heaters() -> None:
    # Left switch alone. Both ways part at the middle of wire 4.
    fault = Fault("wire:4", "crossed", other="wire:5")
    common = SOURCE_OHM + TO_PLUG - 0.005
    left = 0.005 + (LEFT - TO_PLUG)
    right = TOUCH_OHM + 0.005 + (RIGHT - TO_PLUG)
    drawn = EMF_V / (common + parallel(left, right))
    assert amps(heaters(), shut("left"), "4", fault) == pytest.approx(drawn)
    assert amps(heaters(), shut("left"), "6", fault) == pytest.approx(
        drawn * right / (left + right)
    )
    assert amps(heaters(), shut("left"), "7", fault) == pytest.approx(
        drawn * left / (left + right)
    )
    # The clamp at the beginning of wire 5, by the open switch, sees nothing.
    assert amps(heaters(), shut("left"), "5", fault) == pytest.approx(0, abs=1e-9)


def test_a_feed_chafed_through_to_a_return_melts_the_fuse_in_use_only() -> None:
    fault = Fault("wire:7", "crossed", other="wire:8")
    assert volts(heaters(), shut("right"), "fuse.2", fault) == pytest.approx(0.0)
    # With the right switch open the left heater's return has a way more, through the
    # other heater, beside 0.02 ohm.
    home = parallel(0.02, TOUCH_OHM + 0.005 + 6 + 0.01)
    assert amps(heaters(), shut("left"), "4", fault) == pytest.approx(
        EMF_V / (SOURCE_OHM + LEFT - 0.02 + home)
    )


def test_swapped_cavities_feed_the_other_heater() -> None:
    swapped = Fault("plug:plug.1", "crossed", other="plug:plug.2")
    left = shut("left")
    assert amps(heaters(), left, "7", swapped) == pytest.approx(
        EMF_V / (SOURCE_OHM + RIGHT)
    )
    assert amps(heaters(), left, "6", swapped) == pytest.approx(0.0, abs=1e-9)
    # With both on nobody would notice.
    for wire in ("6", "7"):
        assert amps(heaters(), BOTH, wire, swapped) == pytest.approx(
            amps(heaters(), BOTH, wire)
        )


def test_a_feed_swapped_with_a_return_leaves_both_heaters_dead_and_the_fuse_whole() -> (
    None
):
    # Each heater then has both ends on the feed, or both on the frame.
    swapped = Fault("plug:plug.2", "crossed", other="plug:plug.3")
    for wire in ("1", "6", "7"):
        assert amps(heaters(), BOTH, wire, swapped) == pytest.approx(0.0, abs=1e-9)
    both_ends = ("heater-left.1", "heater-left.2")
    for end in both_ends:
        assert volts(heaters(), BOTH, end, swapped) == pytest.approx(EMF_V, abs=1e-4)
    for end in ("heater-right.1", "heater-right.2"):
        assert volts(heaters(), BOTH, end, swapped) == pytest.approx(0.0, abs=1e-4)


def test_swapped_cavities_do_nothing_while_the_plug_is_apart() -> None:
    swapped = Fault("plug:plug.1", "crossed", other="plug:plug.2")
    assert is_untouched(heaters(), BOTH | {"unplugged": ["plug"]}, swapped)


def test_a_contact_that_sticks_is_as_if_the_switch_were_shut() -> None:
    stuck = Fault("switch:left.IN.1-2", "stuck")
    drawn = EMF_V / (SOURCE_OHM + LEFT)
    assert amps(heaters(), {}, "6", stuck) == pytest.approx(drawn)
    assert amps(heaters(), shut("right"), "6", stuck) == pytest.approx(
        amps(heaters(), BOTH, "6")
    )
    assert is_untouched(heaters(), shut("left"), stuck)
    assert is_untouched(heaters(), {"removed": ["left"]}, stuck)


def test_a_contact_that_another_position_shuts_as_well_sticks_in_neither() -> None:
    # ON and PARK both join 30 and 57: one fault, named after the first, seen at OFF.
    stuck = Fault("switch:key-switch.ON.30-57", "stuck")
    assert is_untouched(bike(), PARK, stuck)
    assert volts(bike(), {}, "rear-lamp.T", stuck) > 12
    feed = Fault("switch:key-switch.ON.30-15", "stuck")
    assert not is_untouched(bike(), PARK, feed)
    assert volts(bike(), PARK, "horn-button.1", feed) == pytest.approx(12.6, abs=0.1)


LEFT_ON_RELAY, RIGHT_ON_RELAY = 4.03, 6.03


def test_a_relay_s_contact_that_sticks_feeds_its_load_beside_the_other() -> None:
    h, stuck = changeover(), Fault("relay:relay.contact", "stuck")
    both = parallel(LEFT_ON_RELAY, RIGHT_ON_RELAY)
    drawn = EMF_V / (SOURCE_OHM + 0.01 + both)
    assert amps(h, {}, "1", stuck) == pytest.approx(drawn)
    assert amps(h, {}, "5", stuck) == pytest.approx(drawn * both / LEFT_ON_RELAY)
    assert is_untouched(h, {"removed": ["relay"]}, stuck)
    # Pulled in it is where it should be, and a dead coil does not free it.
    assert amps(h, shut("switch"), "5", stuck) == pytest.approx(
        amps(h, shut("switch"), "5")
    )
    dead_coil = Fault("relay:relay.coil", "open")
    assert amps(h, shut("switch"), "5", stuck, dead_coil) == pytest.approx(
        drawn * both / LEFT_ON_RELAY
    )


def test_a_relay_s_break_contact_that_sticks_feeds_its_load_when_pulled_in() -> None:
    h, stuck = changeover(), Fault("relay:relay.break-contact", "stuck")
    both = parallel(LEFT_ON_RELAY, RIGHT_ON_RELAY)
    coil = 0.01 + 0.01 + 0.01 + 80 + 0.01
    drawn = EMF_V / (SOURCE_OHM + parallel(0.01 + both, coil))
    at_post = EMF_V - drawn * SOURCE_OHM
    assert amps(h, shut("switch"), "1", stuck) == pytest.approx(at_post / (0.01 + both))
    assert amps(h, shut("switch"), "7", stuck) == pytest.approx(
        at_post / (0.01 + both) * both / RIGHT_ON_RELAY
    )
    assert amps(h, {}, "7", stuck) == pytest.approx(amps(h, {}, "7"))


def test_a_shorted_heater_melts_its_fuse() -> None:
    shorted = Fault("device:heater-left", "shorted")
    assert volts(heaters(), BOTH, "fuse.2", shorted) == pytest.approx(0.0)
    assert amps(heaters(), shut("right"), "7", shorted) == pytest.approx(
        EMF_V / (SOURCE_OHM + RIGHT)
    )
    assert is_untouched(heaters(), BOTH | {"removed": ["heater-left"]}, shorted)


def test_a_shorted_motor_without_a_fuse_drags_the_battery_down() -> None:
    h, pressed = starter(), {"button": "IN"}
    motor = 0.003 + 0.01 + 0.003 + parallel(0.12, TOUCH_OHM) + 0.003
    coil = 0.02 + 0.01 + 0.02 + 0.005 + 0.02 + 15 + 0.01
    drawn = EMF_V / (SOURCE_OHM + parallel(motor, coil))
    at_post = EMF_V - drawn * SOURCE_OHM
    shorted = Fault("device:motor", "shorted")
    assert amps(h, pressed, "6", shorted) == pytest.approx(at_post / motor, abs=1e-3)
    assert at_post / motor > 1.4 * amps(h, pressed, "6")


def test_a_shorted_coil_does_not_pull_in() -> None:
    h, shorted = starter(), Fault("relay:relay.coil", "shorted")
    coil = parallel(15.0, TOUCH_OHM)
    drawn = EMF_V / (SOURCE_OHM + 0.02 + 0.01 + 0.02 + 0.005 + 0.02 + coil + 0.01)
    assert amps(h, {"button": "IN"}, "3", shorted) == pytest.approx(drawn, abs=1e-3)
    assert amps(h, {"button": "IN"}, "6", shorted) == pytest.approx(0.0, abs=1e-9)


def test_a_shorted_diode_takes_no_volts_either_way() -> None:
    h, on = relay_and_charger(), {"switch": "ON"}
    shorted = Fault("diode:diode", "shorted")
    sound = volts(h, on, "diode.a") - volts(h, on, "diode.k")
    assert sound == pytest.approx(0.7 + 0.05 * amps(h, on, "11"), abs=1e-4)
    drop = volts(h, on, "diode.a", shorted) - volts(h, on, "diode.k", shorted)
    # Its own 0.7 V drive what they can through the touch, the rest is ohms.
    assert 0.0 < drop < 0.02


def test_a_shorted_charger_shorts_its_feed_whether_it_runs_or_not() -> None:
    h, shorted = relay_and_charger(), Fault("charger:alternator", "shorted")
    assert volts(h, {}, "fuse.2", shorted) == pytest.approx(0.0, abs=1e-6)
    assert volts(h, {}, "fuse.1", shorted) == pytest.approx(EMF_V, abs=1e-4)
    # Running, it drives its short by itself: 0.15 ohm inside, 0.05 across the pins.
    running = {"engine": "running"}
    ways = parallel(TOUCH_OHM, 80)
    at_pins = 14.2 * ways / (0.15 + ways)
    assert read(
        h, running, "voltmeter", ("alternator.pos", "alternator.neg"), shorted
    ) == pytest.approx(at_pins, abs=0.05)


def test_a_shorted_link_of_a_box_leaves_the_others() -> None:
    h = boxed()
    shorted = Fault("device:box.a-b", "shorted")
    way = 0.01 + parallel(3.0, TOUCH_OHM) + 5 + 0.01
    assert amps(h, {}, "1", shorted) == pytest.approx(EMF_V / (SOURCE_OHM + way))
