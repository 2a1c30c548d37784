"""Faults: which there are, how they are named, and what they do to the network.

The figures are worked out by hand on the looms of `faulty_looms.py`, and must come out
both of one circuit with the fault put in and of the tables of all faults.
"""

from collections.abc import Mapping
from functools import cache

import numpy as np
import pytest

from harness.edits import CHAFED_OHM, WEAK_EMF_RATIO, nearest_body
from harness.errors import HarnessError
from harness.faults import (
    BAD_CONTACT_OHM,
    Fault,
    fault_from,
    single_faults,
    variants,
    with_fault,
    with_faults,
)
from harness.model import Harness
from harness.neighbours import neighbours_of
from harness.network import compile_network
from harness.rig import rig_from
from harness.segments import segments_of
from harness.solver import solve_network
from tests.harness.compared import fresh_table, from_circuit, from_table
from tests.harness.direct import Bench
from tests.harness.faulty_looms import (
    EMF_V,
    SOURCE_OHM,
    TOUCH_OHM,
    boxed,
    changeover,
    parallel,
    shut,
    side_by_side,
)
from tests.harness.library import EVERY_LOOM, WHIMBREL, loom
from tests.harness.small_looms import (
    HORN,
    PARK,
    horn_and_tail,
    relay_and_charger,
    starter,
)

BOTH = shut("left", "right")
# From the battery's feed post to the plug's face a, and on to each heater and home.
TO_PLUG = 0.05
LEFT = TO_PLUG + 0.005 + 0.01 + 4 + 0.01 + 0.005 + 0.01
RIGHT = TO_PLUG + 0.005 + 0.01 + 6 + 0.01


@cache
def bike() -> Harness:
    return horn_and_tail()


@cache
def heaters() -> Harness:
    return side_by_side()


def amps(h: Harness, rig: Mapping[str, object], wire: str, *faults: Fault) -> float:
    """Return what a clamp round a wire reads, found in both ways."""
    return read(h, rig, "ammeter", (wire,), *faults)


def volts(
    h: Harness, rig: Mapping[str, object], terminal: str, *faults: Fault
) -> float:
    """Return what a voltmeter shows against the frame, found in both ways."""
    assert h.first_body is not None
    return read(h, rig, "voltmeter", (terminal, h.first_body), *faults)


def read(
    h: Harness,
    rig: Mapping[str, object],
    tool: str,
    place: tuple[str, ...],
    *faults: Fault,
) -> float:
    placed = rig_from(h, rig)
    alone = from_circuit(Bench(h, placed, faults), tool, place)
    table = fresh_table(h, placed, [(), faults])
    assert float(from_table(table, tool, place)[1]) == pytest.approx(alone, abs=1e-4)
    return alone


def is_untouched(h: Harness, rig: Mapping[str, object], fault: Fault) -> bool:
    """Tell whether a fault leaves the network of a rig as it was."""
    net = compile_network(h, rig_from(h, rig))
    return with_fault(h, net, fault) is net


# --- Which there are ---------------------------------------------------------------


@pytest.mark.parametrize("file", EVERY_LOOM)
def test_there_is_a_fault_for_each_way_and_size_and_neighbour(file: str) -> None:
    h = loom(file)
    singles, beside = single_faults(h), neighbours_of(h)
    assert len(set(singles)) == len(singles)
    for segment in segments_of(h).values():
        mine = [f for f in singles if f.segment == segment.name]
        modes = [m for m in segment.modes if m != "crossed"]
        assert list(dict.fromkeys(f.mode for f in mine if not f.other)) == modes
        ohms = [f.ohms for f in mine if f.mode == "resistive"]
        assert ohms == (list(BAD_CONTACT_OHM) if "resistive" in modes else [])
        others = [f.other for f in singles if f.segment == segment.name and f.other]
        others += [f.segment for f in singles if f.other == segment.name]
        assert sorted(others) == list(beside.get(segment.name, ()))


def test_a_bad_contact_is_searched_for_at_the_contract_s_sizes() -> None:
    # Contract section 4: "about 0.3, 3 or 30 ohm, or as finely as the engine likes".
    assert {0.3, 3.0, 30.0} <= set(BAD_CONTACT_OHM)


def test_a_weak_battery_has_low_volts_or_a_high_resistance() -> None:
    battery = segments_of(bike())["battery:battery"]
    ohms = [fault.ohms for fault in variants(bike(), battery, "weak")]
    assert ohms[0] == 0.0
    assert len(ohms) > 1
    assert min(ohms[1:]) > 0


def test_only_what_a_hand_can_pull_at_parts_when_the_loom_is_moved() -> None:
    h = relay_and_charger()
    moved = [f for f in single_faults(h) if f.moved]
    assert {f.mode for f in moved} == {"open"}
    kinds = {segments_of(h)[f.segment].kind for f in moved}
    assert kinds == {"wire", "switch"}
    whole = {segments_of(bike())[f.segment].kind for f in single_faults(bike())}
    assert "plug" in whole
    assert {
        f.segment for f in single_faults(bike()) if f.moved and "plug" in f.segment
    } == {f"plug:tail-plug.{k}" for k in (1, 2, 3)}


def test_what_opens_a_new_way_may_have_blown_a_fuse_and_nothing_else_may() -> None:
    modes = {f.mode for f in single_faults(heaters()) if f.is_short}
    assert modes == {"earthed", "crossed", "stuck", "shorted"}


# --- How they are named ------------------------------------------------------------


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        (("wire:7", "open"), Fault("wire:7", "open")),
        (["wire:7", "resistive"], Fault("wire:7", "resistive", 3.0)),
        (("wire:7", "resistive", 0.5), Fault("wire:7", "resistive", 0.5)),
        (("wire:7", "resistive", "12"), Fault("wire:7", "resistive", 12.0)),
        (("fuse:main-fuse", "blown"), Fault("fuse:main-fuse", "blown")),
        (("battery:battery", "weak"), Fault("battery:battery", "weak", 0.0)),
        (("device:horn", "shorted"), Fault("device:horn", "shorted")),
        (
            ("switch:key-switch.ON.30-57", "stuck"),
            Fault("switch:key-switch.ON.30-57", "stuck"),
        ),
        (("wire:9", "crossed", "wire:6"), Fault("wire:6", "crossed", other="wire:9")),
        (("wire:6", "crossed", "wire:9"), Fault("wire:6", "crossed", other="wire:9")),
        (("wire:9", "crossed"), Fault("wire:12", "crossed", other="wire:9")),
        (
            ("plug:tail-plug.3", "crossed"),
            Fault("plug:tail-plug.2", "crossed", other="plug:tail-plug.3"),
        ),
    ],
)
def test_a_fault_is_read_from_segment_mode_and_a_third_part(
    given: tuple[object, ...], expected: Fault
) -> None:
    assert fault_from(bike(), given) == expected
    assert expected in single_faults(bike()) or expected.ohms not in BAD_CONTACT_OHM


@pytest.mark.parametrize(
    ("given", "says"),
    [
        (("wire:99", "open"), "no such segment"),
        (("7", "open"), "no such segment"),
        (("wire:7", "blown"), "use one of: open, resistive, earthed, crossed"),
        (("wire:5", "crossed"), "use one of: open, resistive, earthed"),
        (("device:horn", "open"), "use one of: dead, shorted"),
        (("switch:key-switch.PARK.30-57", "stuck"), "use one of: open, resistive"),
        (("wire:7", "resistive", 0), "not positive"),
        (("wire:7", "resistive", "nan"), "not positive"),
        (("wire:6", "crossed", "wire:12"), "name a neighbour of it: wire:9"),
    ],
)
def test_a_fault_that_cannot_be_is_refused(
    given: tuple[object, ...], says: str
) -> None:
    with pytest.raises(HarnessError, match=says):
        fault_from(bike(), given)


def test_both_of_two_crossed_segments_are_bad() -> None:
    fault = fault_from(bike(), ("wire:9", "crossed", "wire:6"))
    assert fault.segments == ("wire:6", "wire:9")
    assert Fault("wire:6", "open").segments == ("wire:6",)


# --- What they do: cuts and bad contacts -------------------------------------------


def test_sound_heaters_draw_what_their_ohms_say() -> None:
    assert amps(heaters(), shut("left"), "4") == pytest.approx(
        EMF_V / (SOURCE_OHM + LEFT)
    )
    assert amps(heaters(), BOTH, "1") == pytest.approx(
        EMF_V / (SOURCE_OHM + 0.02 + parallel(LEFT - 0.02, RIGHT - 0.02))
    )


def test_an_open_wire_carries_nothing() -> None:
    cut = Fault("wire:8", "open")
    assert amps(heaters(), BOTH, "6", cut) == pytest.approx(0.0, abs=1e-9)
    assert volts(heaters(), shut("left"), "heater-left.2", cut) == pytest.approx(
        EMF_V, abs=1e-4
    )
    assert volts(bike(), HORN, "horn.2", Fault("device:horn", "dead")) == pytest.approx(
        0, abs=0.05
    )


@pytest.mark.parametrize("ohm", BAD_CONTACT_OHM)
def test_a_bad_contact_adds_its_ohms_in_line(ohm: float) -> None:
    bad = Fault("plug:plug.3", "resistive", ohm)
    drawn = EMF_V / (SOURCE_OHM + LEFT + ohm)
    assert amps(heaters(), shut("left"), "8", bad) == pytest.approx(drawn)
    assert volts(heaters(), shut("left"), "plug.3b", bad) == pytest.approx(
        drawn * (ohm + 0.015), abs=1e-5
    )


def test_a_weak_battery_gives_fewer_volts_at_rest_or_only_under_load() -> None:
    flat = Fault("battery:battery", "weak")
    tired = Fault("battery:battery", "weak", 0.6)
    assert volts(heaters(), {}, "battery.pos", flat) == pytest.approx(
        EMF_V * WEAK_EMF_RATIO, abs=1e-4
    )
    assert volts(heaters(), {}, "battery.pos", tired) == pytest.approx(EMF_V, abs=1e-4)
    drawn = EMF_V / (0.6 + SOURCE_OHM + LEFT)
    assert amps(heaters(), shut("left"), "1", tired) == pytest.approx(drawn)


def test_an_intermittent_contact_is_sound_at_rest() -> None:
    for fault in single_faults(bike()):
        if fault.moved:
            assert is_untouched(bike(), HORN, fault)
            assert not is_untouched(bike(), HORN, Fault(fault.segment, "open")) or (
                is_untouched(bike(), HORN, Fault(fault.segment, "resistive", 3.0))
            )


# --- Shorts ------------------------------------------------------------------------


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


# --- Where they lie ----------------------------------------------------------------


def test_a_fault_that_is_not_in_the_rig_changes_nothing() -> None:
    assert is_untouched(bike(), {}, Fault("switch:key-switch.ON.30-15", "open"))
    apart = {"unplugged": ["tail-plug"]}
    assert is_untouched(bike(), apart, Fault("plug:tail-plug.1", "resistive", 3.0))
    assert is_untouched(bike(), {"removed": ["horn"]}, Fault("device:horn", "shorted"))
    assert is_untouched(relay_and_charger(), {}, Fault("charger:alternator", "dead"))


def test_a_wire_chafes_through_to_the_metal_of_its_own_place() -> None:
    h = loom(WHIMBREL)
    # The pilot's wire lies in the headlamp shell; the kill switch's first place with
    # metal is the handlebar.
    assert nearest_body(h, "58-8") == "shell.brackets"
    assert nearest_body(h, "15-4") == "handlebar.button"
    # No body stands in the battery tray: the first body of the file.
    assert nearest_body(h, "30-1") == h.first_body
    assert nearest_body(bike(), "6") == "frame.battery"


@pytest.mark.parametrize("make", [horn_and_tail, side_by_side, relay_and_charger])
def test_faults_put_in_leave_the_network_as_it_was(make: object) -> None:
    assert callable(make)
    h = make()
    net = compile_network(h, rig_from(h, {}))
    before = [
        array.copy()
        for array in (net.g_s, net.a, net.b, net.emf_v, net.role, net.coil_of)
    ]
    for fault in single_faults(h):
        with_fault(h, net, fault)
    now = (net.g_s, net.a, net.b, net.emf_v, net.role, net.coil_of)
    for one, two in zip(before, now, strict=True):
        assert np.array_equal(one, two)


def test_joints_are_made_on_the_loom_as_drawn_and_cuts_after_them() -> None:
    # The crossed middle of wire 4 is found although the plug behind it is open.
    crossed = Fault("wire:4", "crossed", other="wire:5")
    cut = Fault("plug:plug.1", "open")
    net = compile_network(heaters(), rig_from(heaters(), shut("left")))
    for faults in ((crossed, cut), (cut, crossed)):
        solution = solve_network(with_faults(heaters(), net, faults))
        drawn = float(solution.amps[net.branch_of["wire:7"]])
        way = SOURCE_OHM + TO_PLUG - 0.005 + TOUCH_OHM + 0.005 + (RIGHT - TO_PLUG)
        assert drawn == pytest.approx(EMF_V / way)
