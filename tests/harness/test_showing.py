"""What one test would show on a bike with given faults."""

import pytest

import harness
from harness.segments import Fault
from harness.showing import shown
from tests.harness.small_looms import BRAKE, HORN, LEAD_OFF, ON, PARK, horn_and_tail

H = horn_and_tail()


def test_a_healthy_horn_works_and_an_open_feed_kills_it() -> None:
    look = {"tool": "eye", "device": "horn", "rig": HORN}
    assert shown(H, look) == "works"
    assert shown(H, look, faults=[("wire:4", "open")]) == "dead"
    assert shown(H, look, faults=[("device:horn", "dead")]) == "dead"


def test_a_test_lamp_lights_before_the_break_and_not_behind_it() -> None:
    fault = [("wire:4", "open")]
    before = {"tool": "test-lamp", "probe": "horn-button.2", "rig": HORN}
    behind = {"tool": "test-lamp", "probe": "horn.1", "rig": HORN}
    assert shown(H, before, faults=fault) == "lit"
    assert shown(H, behind, faults=fault) == "dark"


def test_a_short_has_blown_its_fuse_before_anyone_looks() -> None:
    short = [("wire:3", "earthed")]
    assert shown(H, {"tool": "eye", "device": "main-fuse"}, faults=short) == "blown"
    volts = shown(
        H, {"tool": "voltmeter", "probe": "main-fuse.2", "rig": {}}, faults=short
    )
    assert isinstance(volts, float)
    assert abs(volts) < 0.01


def test_two_faults_at_once_are_solved_together() -> None:
    look = {"tool": "voltmeter", "probe": "horn.2", "rig": HORN}
    one = shown(H, look, faults=[("wire:5", "open")])
    both = shown(H, look, faults=[("wire:5", "open"), ("wire:3", "open")])
    assert one == pytest.approx(12.6, abs=0.05)
    assert both == pytest.approx(0.0, abs=0.01)


def test_an_ohmmeter_reads_the_horn_and_an_open_wire() -> None:
    horn = {"tool": "ohmmeter", "probe": "horn.1", "clip": "horn.2", "rig": LEAD_OFF}
    assert shown(H, horn) == pytest.approx(12**2 / 30, rel=1e-3)
    earth = {"tool": "ohmmeter", "probe": "horn.2", "rig": LEAD_OFF}
    assert shown(H, earth, faults=[("wire:5", "open")]) != pytest.approx(0.0, abs=1)


def clamp(wire: str, faults: list[Fault], **rig: object) -> float:
    given = {"tool": "ammeter", "wire": wire, "rig": HORN | rig}
    reads = shown(H, given, faults=faults)
    assert isinstance(reads, float)
    return reads


def test_a_clamp_reads_the_horn_s_current_one_way_and_the_other() -> None:
    # A horn of 30 W at 12 V is 4.8 ohm: 12.6 V over it and the wires, about 2.6 A.
    horn = harness.solve(H, HORN).amps["device:horn"]
    assert clamp("4", []) == pytest.approx(horn, rel=1e-9)
    assert 2.4 < horn < 2.65
    battery_return = clamp("13", [])
    assert battery_return == pytest.approx(-clamp("1", []), rel=1e-9)


def test_a_clamp_reads_nothing_behind_a_break_and_less_behind_a_bad_contact() -> None:
    assert clamp("4", [Fault("wire:5", "open")]) == pytest.approx(0.0, abs=1e-6)
    assert clamp("4", [Fault("wire:4", "open")]) == pytest.approx(0.0, abs=1e-6)
    bad = clamp("4", [Fault("wire:5", "resistive", 3.0)])
    assert bad == pytest.approx(12.6 / (4.8 + 3.0), rel=0.03)


def test_a_clamp_reads_a_short_s_current_no_more_once_the_fuse_is_gone() -> None:
    assert clamp("2", [Fault("wire:3", "earthed")]) == pytest.approx(0.0, abs=1e-6)


def test_a_clamp_changes_nothing() -> None:
    volts = {"tool": "voltmeter", "probe": "horn.1", "rig": HORN}
    before = shown(H, volts)
    clamp("4", [])
    assert shown(H, volts) == before


def test_an_intermittent_contact_is_bad_only_while_the_loom_is_moved() -> None:
    parted = [Fault("wire:4", "open", moved=True)]
    look: dict[str, object] = {"tool": "eye", "device": "horn", "rig": HORN}
    assert shown(H, look, faults=parted) == "works"
    assert shown(H, look | {"moving": True}, faults=parted) == "dead"
    assert shown(H, look | {"moving": True}) == "works"
    stays = [Fault("wire:4", "open")]
    assert shown(H, look | {"moving": True}, faults=stays) == "dead"
    with pytest.raises(harness.HarnessError, match="moving"):
        shown(H, look | {"moving": "a little"})


def blown(*faults: Fault) -> bool:
    look = {"tool": "eye", "device": "main-fuse"}
    return shown(H, look, faults=faults) == "blown"


@pytest.mark.parametrize(
    "short",
    [
        Fault("wire:4", "earthed"),
        Fault("device:horn", "shorted"),
        Fault("device:rear-lamp.tail", "shorted"),
        # The horn's feed chafed through to its return.
        Fault("wire:4", "crossed", other="wire:5"),
    ],
)
def test_every_short_takes_its_fuse_down_before_anyone_tests(short: Fault) -> None:
    assert blown(short)


@pytest.mark.parametrize(
    "fault",
    [
        Fault("wire:4", "open"),
        Fault("wire:4", "resistive", 3.0),
        Fault("device:horn", "dead"),
        Fault("battery:battery", "weak"),
        Fault("switch:horn-button.PRESSED.1-2", "stuck"),
        Fault("plug:tail-plug.1", "crossed", other="plug:tail-plug.2"),
        Fault("wire:4", "open", moved=True),
    ],
)
def test_what_makes_no_short_leaves_the_fuse_alone(fault: Fault) -> None:
    assert not blown(fault)


def test_a_short_beside_another_fault_takes_the_fuse_down_too() -> None:
    assert blown(Fault("wire:10", "open"), Fault("device:horn", "shorted"))


def test_a_shorted_horn_is_dead_and_a_stuck_button_sounds_it_alone() -> None:
    at_rest = {"tool": "eye", "device": "horn", "rig": ON}
    stuck = Fault("switch:horn-button.PRESSED.1-2", "stuck")
    assert shown(H, at_rest) == "dead"
    assert shown(H, at_rest, faults=[stuck]) == "works"
    pressed = {"tool": "eye", "device": "horn", "rig": HORN}
    assert shown(H, pressed, faults=[Fault("device:horn", "shorted")]) == "dead"


def test_swapped_cavities_light_the_tail_for_the_stop() -> None:
    swapped = [Fault("plug:tail-plug.1", "crossed", other="plug:tail-plug.2")]
    tail = {"tool": "eye", "device": "rear-lamp.tail"}
    stop = {"tool": "eye", "device": "rear-lamp.stop"}
    assert shown(H, stop | {"rig": PARK}, faults=swapped) == "works"
    assert shown(H, tail | {"rig": PARK}, faults=swapped) == "dead"
    assert shown(H, tail | {"rig": BRAKE}, faults=swapped) == "works"


def test_what_cannot_be_taken_is_refused() -> None:
    with pytest.raises(harness.HarnessError, match="battery connected"):
        shown(H, {"tool": "ohmmeter", "probe": "horn.1", "rig": ON})
