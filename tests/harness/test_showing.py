"""What one test would show on a bike with given faults."""

import pytest

import harness
from harness.showing import shown
from tests.harness.small_looms import HORN, LEAD_OFF, ON, horn_and_tail

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


def test_what_cannot_be_taken_is_refused() -> None:
    with pytest.raises(harness.HarnessError, match="battery connected"):
        shown(H, {"tool": "ohmmeter", "probe": "horn.1", "rig": ON})
