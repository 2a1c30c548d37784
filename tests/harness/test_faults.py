"""Faults: which there are, how they are named, and what cuts and bad contacts do.

The figures are worked out by hand on the looms of `faulty_looms.py`, and must come out
both of one circuit with the fault put in and of the tables of all faults.
"""

from functools import cache

import numpy as np
import pytest

from harness.edits import WEAK_EMF_RATIO, nearest_body
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
from tests.harness.faulty_looms import (
    EMF_V,
    LEFT,
    RIGHT,
    SOURCE_OHM,
    TO_PLUG,
    TOUCH_OHM,
    parallel,
    shut,
    side_by_side,
)
from tests.harness.library import EVERY_LOOM, WHIMBREL, loom
from tests.harness.readout import amps, is_untouched, volts
from tests.harness.small_looms import (
    HORN,
    horn_and_tail,
    relay_and_charger,
)

BOTH = shut("left", "right")


@cache
def bike() -> Harness:
    return horn_and_tail()


@cache
def heaters() -> Harness:
    return side_by_side()


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
