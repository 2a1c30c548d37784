"""`solve`: volts, amperes and blown fuses as the contract's section 5 has them."""

import pytest

import harness
from harness.errors import HarnessError, SingularNetwork
from tests.harness.library import Rig
from tests.harness.small_looms import (
    BRAKE,
    HORN,
    LEAD_OFF,
    ON,
    PARK,
    buzzer,
    horn_and_tail,
    positive_earth,
    relay_and_charger,
    starter,
)

BIKE = horn_and_tail()
TURNED = positive_earth(BIKE)
RELAY = relay_and_charger()
RUNNING: Rig = {"engine": "running"}


def test_volts_are_against_the_battery_s_earthed_pole() -> None:
    op = harness.solve(BIKE, rig=HORN)
    assert op.volts["battery.neg"] == pytest.approx(0.0, abs=1e-9)
    assert op.volts["battery.pos"] == pytest.approx(12.55, abs=0.02)
    assert 11.9 < op.volts["horn.1"] < op.volts["horn-button.1"] < 12.5
    assert 0.0 < op.volts["horn.2"] < 0.1
    turned = harness.solve(TURNED, rig=HORN)
    assert turned.volts["battery.pos"] == pytest.approx(0.0, abs=1e-9)
    assert turned.volts["horn.1"] == pytest.approx(-op.volts["horn.1"], abs=1e-9)


def test_every_terminal_has_volts_and_every_segment_in_the_circuit_amps() -> None:
    op = harness.solve(BIKE, rig=HORN)
    assert set(op.volts) == set(BIKE.terminals)
    present = {s for s in harness.segments_of(BIKE) if not s.startswith("switch")}
    assert present <= set(op.amps)
    switches = {s for s in op.amps if s.startswith("switch")}
    assert switches == {
        "switch:key-switch.ON.30-15",
        "switch:key-switch.ON.30-57",
        "switch:horn-button.PRESSED.1-2",
    }


def test_amps_run_from_the_from_end_to_the_to_end() -> None:
    op = harness.solve(BIKE, rig=HORN)
    for wire in ("1", "2", "3", "4", "5"):
        assert op.amps[f"wire:{wire}"] > 2.0
    # Wire 13 is drawn from the battery to the frame: current comes back along it.
    assert op.amps["wire:13"] < -2.0
    turned = harness.solve(TURNED, rig=HORN)
    for wire in ("1", "5", "13"):
        there, back = op.amps[f"wire:{wire}"], turned.amps[f"wire:{wire}"]
        assert back == pytest.approx(-there, abs=1e-9)


def test_a_device_s_current_is_from_its_first_pin_to_its_second() -> None:
    op = harness.solve(BIKE, rig=HORN)
    drop_v = op.volts["horn.1"] - op.volts["horn.2"]
    assert op.amps["device:horn"] == pytest.approx(drop_v / 4.8)
    # The battery gives: inside it the current runs from neg to pos.
    assert op.amps["battery:battery"] < 0
    running = harness.solve(RELAY, rig=RUNNING | {"switch": "ON"})
    assert running.amps["battery:battery"] > 0, "it is being charged"
    assert running.amps["charger:alternator"] < 0, "a charger that feeds gives"


def test_what_is_off_is_dead_and_draws_nothing() -> None:
    op = harness.solve(BIKE)
    assert op.volts["main-fuse.2"] == pytest.approx(12.6, abs=1e-6)
    assert op.volts["horn.1"] == pytest.approx(0.0, abs=1e-6)
    assert max(abs(amps) for amps in op.amps.values()) < 1e-9
    parked = harness.solve(BIKE, rig=PARK)
    assert parked.volts["rear-lamp.T"] > 12
    assert parked.amps["wire:3"] == pytest.approx(0.0, abs=1e-9)


def test_current_balances_at_every_node() -> None:
    for rig in (ON, HORN, BRAKE):
        assert harness.solve(BIKE, rig=rig).residual_a < 1e-9


def test_a_short_opens_the_fuse_that_feeds_it() -> None:
    op = harness.solve(BIKE, rig=ON, faults=[("wire:6", "earthed")])
    assert op.blown == ("main-fuse",)
    assert op.volts["key-switch.30"] == pytest.approx(0.0, abs=1e-6)
    assert harness.solve(BIKE, faults=[("wire:6", "earthed")]).blown == ()


def test_a_short_before_the_fuse_opens_nothing_and_drags_the_battery_down() -> None:
    op = harness.solve(BIKE, faults=[("wire:1", "earthed")])
    assert op.blown == ()
    assert op.volts["battery.pos"] < 11.0
    assert op.amps["wire:1"] > 50


def test_fuses_are_named_in_the_order_in_which_they_opened() -> None:
    jumper = {"jumpers": [["fuse.2", "frame.head"]]}
    with pytest.raises(HarnessError, match="short"):
        harness.solve(RELAY, rig={"jumpers": [["battery.pos", "frame.head"]]})
    op = harness.solve(RELAY, rig=jumper)
    assert op.blown == ("fuse",)


def test_a_jumper_is_a_lead_of_its_own() -> None:
    # Past the horn button: the horn sounds though nobody presses it.
    op = harness.solve(BIKE, rig=ON | {"jumpers": [["horn-button.1", "horn-button.2"]]})
    assert op.amps["device:horn"] > 2.4
    assert abs(op.amps["jumper:1"]) == pytest.approx(op.amps["device:horn"])


def test_a_plug_apart_and_a_wire_off_its_pin_carry_nothing() -> None:
    apart = harness.solve(BIKE, rig=BRAKE | {"unplugged": ["tail-plug"]})
    assert apart.volts["tail-plug.1a"] > 12
    assert apart.volts["tail-plug.1b"] == pytest.approx(0.0, abs=1e-6)
    assert "plug:tail-plug.1" not in apart.amps
    off = harness.solve(BIKE, rig=BRAKE | {"unplugged": ["rear-lamp.E"]})
    assert off.amps["device:rear-lamp.stop"] == pytest.approx(
        -off.amps["device:rear-lamp.tail"], abs=1e-9
    ), "with the earth off, what goes in at one filament comes out at the other"
    key = harness.solve(BIKE, rig=HORN | {"unplugged": ["key-switch.30"]})
    assert key.volts["horn.1"] == pytest.approx(0.0, abs=1e-6)


def test_a_device_taken_out_is_gone() -> None:
    for device in ("main-fuse", "horn", "key-switch"):
        op = harness.solve(BIKE, rig=HORN | {"removed": [device]})
        assert op.amps["wire:5"] == pytest.approx(0.0, abs=1e-9)
        assert not any(name.partition(":")[2] == device for name in op.amps)


def test_with_the_battery_lead_off_nothing_flows() -> None:
    op = harness.solve(BIKE, rig=HORN | LEAD_OFF)
    assert max(abs(amps) for amps in op.amps.values()) < 1e-9
    # The feed post still stands at its volts against the bare earthed post.
    assert op.volts["battery.pos"] == pytest.approx(12.6)


def test_the_charger_feeds_only_while_the_engine_runs() -> None:
    stopped = harness.solve(RELAY, rig={"switch": "ON"})
    running = harness.solve(RELAY, rig={"switch": "ON"} | RUNNING)
    assert "charger:alternator" not in stopped.amps
    assert stopped.volts["battery.pos"] < 12.6 < running.volts["battery.pos"] < 14.2
    assert running.amps["wire:13"] > 5


def test_a_relay_pulls_in_and_its_break_contact_opens() -> None:
    rest, pulled = harness.solve(RELAY), harness.solve(RELAY, rig={"switch": "ON"})
    assert rest.volts["rest-lamp.1"] > 12
    assert rest.volts["head.1"] < 0.1
    assert pulled.volts["rest-lamp.1"] < 0.1
    assert pulled.volts["head.1"] > 12
    assert pulled.amps["relay:relay.contact"] > 3
    assert pulled.amps["relay:relay.break-contact"] == 0.0


def test_a_weak_feed_to_the_coil_leaves_the_relay_out() -> None:
    button = {"button": "IN"}
    good = harness.solve(starter(), rig=button)
    assert good.amps["device:motor"] > 50
    assert good.volts["relay.86"] > 7.2
    bad = harness.solve(starter(), button, [("plug:plug.1", "resistive", 30.0)])
    assert bad.volts["relay.86"] < 7.2
    assert bad.amps["device:motor"] == pytest.approx(0.0, abs=1e-9)


def test_a_relay_that_chatters_is_named() -> None:
    with pytest.raises(SingularNetwork, match=r"relay:relay.* to and fro") as caught:
        harness.solve(buzzer())
    assert caught.value.reasons


def test_faults_are_put_in_together() -> None:
    two = [("device:rear-lamp.tail", "dead"), ("wire:5", "open")]
    op = harness.solve(BIKE, rig=HORN, faults=two)
    assert op.amps["device:horn"] == pytest.approx(0.0, abs=1e-9)
    assert op.amps["device:rear-lamp.tail"] == pytest.approx(0.0, abs=1e-9)
    assert op.volts["horn.2"] > 12, "the horn's return has lost its earth"


@pytest.mark.parametrize(
    ("faults", "says"),
    [
        ([("wire:99", "open")], "no such segment"),
        ([("device:horn", "open")], "use one of: dead"),
        ([("wire:1", "resistive", -3.0)], "not positive"),
        ([("wire:1", "resistive", float("inf"))], "not positive"),
    ],
)
def test_a_fault_that_cannot_be_is_refused(
    faults: list[tuple[object, ...]], says: str
) -> None:
    with pytest.raises(HarnessError, match=says):
        harness.solve(BIKE, faults=faults)


def test_a_rig_may_be_given_ready_made() -> None:
    ready = harness.rig_from(BIKE, HORN)
    assert harness.solve(BIKE, ready).volts == harness.solve(BIKE, HORN).volts
