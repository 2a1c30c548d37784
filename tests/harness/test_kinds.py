"""Kinds of device: the contract's pins and defaults."""

import pytest

from harness.files import loads
from harness.kinds import (
    CRIMP_OHM,
    KIND_OF,
    MOUNT_OHM,
    Battery,
    Body,
    Box,
    Charger,
    Diode,
    Filament,
    Fuse,
    Joint,
    Lamp,
    Link,
    Load,
    Motor,
    Plug,
    Relay,
    Spec,
    Switch,
    fixed_pins,
)
from tests.harness.written import GOOD

PINS: list[tuple[Spec, tuple[str, ...]]] = [
    (Battery(emf_v=12.6), ("pos", "neg")),
    (Charger(volts=14.2), ("pos", "neg")),
    (Fuse(amps=10.0, ohms=0.01), ("1", "2")),
    (Load(ohms=4.8), ("1", "2")),
    (Motor(ohms=0.1), ("1", "2")),
    (Diode(), ("a", "k")),
    (Lamp((Filament(None, ("1", "2"), 5.0, 12.0),)), ("1", "2")),
    (Relay(80.0, 7.2), ("85", "86", "30", "87")),
    (Relay(80.0, 7.2, has_break_contact=True), ("85", "86", "30", "87", "87a")),
    (Plug(("1", "2")), ("1a", "1b", "2a", "2b")),
    (Switch(("OFF", "ON"), (("ON", (("30", "15", "57"),)),)), ("15", "30", "57")),
    (Box((Link(("a", "b"), 1.0), Link(("b", "c"), 2.0))), ("a", "b", "c")),
    (Joint(), ()),
    (Body(), ()),
]


@pytest.mark.parametrize(("spec", "pins"), PINS, ids=lambda x: type(x).__name__)
def test_each_kind_has_the_contract_s_pins(spec: Spec, pins: tuple[str, ...]) -> None:
    # Contract section 1. Joints and bodies have the pins that wires name.
    found = fixed_pins(spec) or ()
    assert sorted(found) == sorted(pins)


def test_two_filaments_share_a_pin_once() -> None:
    tail = Filament("tail", ("T", "E"), 5.0, 12.0)
    stop = Filament("stop", ("S", "E"), 21.0, 12.0)
    assert sorted(fixed_pins(Lamp((tail, stop))) or ()) == ["E", "S", "T"]


def test_every_kind_of_the_contract_is_there() -> None:
    assert set(KIND_OF.values()) == {
        *("battery", "charger", "fuse", "switch", "lamp", "load", "motor"),
        *("relay", "diode", "plug", "joint", "body", "box"),
    }
    assert {type(spec) for spec, _ in PINS} == set(KIND_OF)


def test_the_contract_s_defaults() -> None:
    # Contract section 1; contacts, crimps and joints are common practice, no source.
    assert Battery(emf_v=12.6).ohms == 0.02
    assert Charger(volts=14.2).ohms == 0.15
    assert Switch((), ()).ohms == Relay(80.0, 7.2).ohms == 0.01
    assert (Diode().drop_v, Diode().ohms) == (0.7, 0.05)
    assert Plug(("1",)).ohms == 0.005
    assert Joint().ohms == 0.002
    assert (CRIMP_OHM, MOUNT_OHM) == (0.002, 0.003)


def test_a_switch_joins_nothing_in_a_position_that_is_not_named() -> None:
    switch = Switch(("OFF", "ON"), (("ON", (("1", "2"),)),))
    assert switch.groups("ON") == (("1", "2"),)
    assert switch.groups("OFF") == ()


def test_a_file_s_devices_have_the_kinds_that_it_writes() -> None:
    h = loads(GOOD)
    for device in h.devices.values():
        assert f'[devices.{device.id}]\nkind = "{device.kind}"' in GOOD
