"""The harness: sorted, frozen, equal by content, and the pins that wires give it."""

import operator
from collections.abc import Callable
from dataclasses import FrozenInstanceError, replace
from functools import cache
from typing import Any, cast

import pytest

from harness.files import loads
from harness.kinds import Body, Joint, Load
from harness.model import Device, Harness, Wire
from tests.harness.small_looms import (
    HORN_AND_TAIL,
    device,
    horn_and_tail,
    in_order,
    loom,
    positive_earth,
    wire,
)


@cache
def bike() -> Harness:
    return horn_and_tail()


def rebuilt(h: Harness, devices: list[Device], wires: list[Wire]) -> Harness:
    return Harness.build(
        title=h.title,
        volts=h.volts,
        earth=h.earth,
        places=h.places.values(),
        devices=devices,
        wires=wires,
    )


def test_the_order_of_a_file_changes_nothing_but_the_clip() -> None:
    devices, wires = in_order(bike()), list(bike().wires.values())
    again = rebuilt(bike(), devices, wires[::-1])
    assert again == bike()
    assert hash(again) == hash(bike())
    assert again.first_body == "frame.battery"
    assert list(again.wires) == sorted(again.wires)


def test_the_clip_goes_to_the_first_body_of_the_file() -> None:
    devices = [device("engine", Body()), device("a-frame", Body())]
    wires = [wire("1", "frame.x", "engine.y"), wire("2", "engine.b", "a-frame.c")]
    assert loom(devices, wires).first_body == "frame.battery"
    turned = rebuilt(loom(devices, wires), [*devices, device("frame", Body())], wires)
    assert turned.first_body == "engine.b", "its first pin by name"
    assert rebuilt(turned, [], []).first_body is None


def test_joints_and_bodies_have_the_pins_that_wires_name() -> None:
    assert bike().devices["frame"].pins == ("battery", "horn", "tail")
    h = loom([device("j", Joint())], [wire("1", "battery.pos", "j.7")])
    assert h.devices["j"].pins == ("7",)


def test_terminals_are_every_pin_of_every_device() -> None:
    assert len(set(bike().terminals)) == len(bike().terminals)
    assert {"horn.1", "tail-plug.2b", "frame.tail", "rear-lamp.E"} <= set(
        bike().terminals
    )


@pytest.mark.parametrize(
    ("make", "earthed", "feed"),
    [
        (horn_and_tail, "battery.neg", "battery.pos"),
        (lambda: positive_earth(horn_and_tail()), "battery.pos", "battery.neg"),
    ],
)
def test_the_earthed_post_is_the_one_bonded_to_the_frame(
    make: Callable[[], Harness], earthed: str, feed: str
) -> None:
    h = make()
    assert (h.earthed_pin, h.feed_pin) == (earthed, feed)


def test_line_numbers_are_no_part_of_what_a_harness_is() -> None:
    assert loads("\n\n" + HORN_AND_TAIL) == bike()


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("amps = 15", "amps = 20"),
        ("metres = 1.2", "metres = 1.3"),
        ('colour = "GY"', 'colour = "BU"'),
        ("access_minutes = 3", "access_minutes = 5"),
        ('title = "Horn and tail lamp"', 'title = "Horn"'),
        ('earth = "negative"', 'earth = "positive"'),
    ],
)
def test_any_change_makes_it_another_harness(old: str, new: str) -> None:
    assert old in HORN_AND_TAIL
    other = loads(HORN_AND_TAIL.replace(old, new, 1))
    assert other != bike()
    assert other.digest != bike().digest


def test_nothing_of_it_can_be_written_to() -> None:
    with pytest.raises(FrozenInstanceError):
        setattr(bike(), "title", "x")  # noqa: B010 - the type checker would not have it
    with pytest.raises(TypeError):
        operator.setitem(cast("Any", bike().wires), "99", wire("99", "a.1", "b.1"))


def test_what_a_person_calls_a_device() -> None:
    plain = device("main-fuse", Load(ohms=1.0))
    assert plain.title == "main fuse"
    assert replace(plain, name="Main fuse").title == "Main fuse"


def test_a_wire_s_resistance_is_metal_and_two_crimps_unless_given() -> None:
    # Contract section 1: 0.002 ohm a crimped end, a mount 0.003 in all.
    bare = Wire("1", "a.1", "b.1", conductor_ohms=0.0133)
    assert bare.resistance_ohm == pytest.approx(0.0173)
    assert replace(bare, ohms=0.5).resistance_ohm == 0.5
    assert Wire("2", "a.1", "b.1", kind="mount").resistance_ohm == 0.003


def test_a_harness_is_not_equal_to_anything_else() -> None:
    assert bike() != bike().digest
