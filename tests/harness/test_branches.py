"""What each kind of device becomes in a circuit."""

from collections.abc import Mapping

import pytest

from harness.branches import device_branches
from harness.circuit import Branch, Role
from harness.kinds import (
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
)
from harness.model import Device
from harness.rig import Rig

REST = Rig()


def branches(spec: Spec, rig: Rig = REST, pins: tuple[str, ...] = ()) -> list[Branch]:
    return list(device_branches(Device(id="x", spec=spec, pins=pins), rig))


def ends_of(found: list[Branch]) -> dict[str, tuple[str, str, float]]:
    return {b.segment: (b.a, b.b, b.ohm) for b in found}


ONE: Mapping[str, tuple[Spec, tuple[str, str, float]]] = {
    "battery:x": (Battery(emf_v=12.6, ohms=0.02), ("x.pos", "x.neg", 0.02)),
    "fuse:x": (Fuse(amps=10.0, ohms=0.01), ("x.1", "x.2", 0.01)),
    "device:x": (Load(ohms=4.8), ("x.1", "x.2", 4.8)),
    "diode:x": (Diode(ohms=0.05), ("x.a", "x.k", 0.05)),
}


@pytest.mark.parametrize("name", ONE)
def test_a_plain_device_is_one_branch(name: str) -> None:
    spec, ends = ONE[name]
    assert ends_of(branches(spec)) == {name: ends}


def test_a_motor_is_a_resistance_at_stall() -> None:
    assert ends_of(branches(Motor(ohms=0.1))) == {"device:x": ("x.1", "x.2", 0.1)}


def test_a_battery_has_its_volts_and_a_fuse_its_rating() -> None:
    (battery,) = branches(Battery(emf_v=6.3))
    assert (battery.emf_v, battery.role) == (6.3, Role.SOURCE)
    (fuse,) = branches(Fuse(amps=7.5, ohms=0.013))
    assert (fuse.limit, fuse.role) == (7.5, Role.FUSE)


def test_a_charger_is_there_only_while_the_engine_runs() -> None:
    spec = Charger(volts=14.2, ohms=0.15)
    assert branches(spec) == []
    (found,) = branches(spec, Rig(engine="running"))
    assert found.role is Role.DIODE
    assert (found.a, found.b, found.emf_v) == ("x.neg", "x.pos", -14.2)


def test_a_switch_joins_the_first_pin_of_a_group_to_each_other_one() -> None:
    spec = Switch(("OFF", "ON"), (("ON", (("30", "15", "57"), ("a", "b"))),), ohms=0.02)
    assert branches(spec, Rig(positions=(("x", "OFF"),))) == []
    assert ends_of(branches(spec, Rig(positions=(("x", "ON"),)))) == {
        "switch:x.ON.30-15": ("x.30", "x.15", 0.02),
        "switch:x.ON.30-57": ("x.30", "x.57", 0.02),
        "switch:x.ON.a-b": ("x.a", "x.b", 0.02),
    }


def test_a_lamp_is_a_branch_for_each_filament_at_its_hot_resistance() -> None:
    tail = Filament("tail", ("T", "E"), 5.0, 12.0)
    stop = Filament("stop", ("S", "E"), 21.0, 12.0)
    found = branches(Lamp((tail, stop)))
    assert [b.segment for b in found] == ["device:x.tail", "device:x.stop"]
    assert [b.ohm for b in found] == pytest.approx([144 / 5, 144 / 21])
    assert {b.role for b in found} == {Role.LAMP}
    (plain,) = branches(Lamp((Filament(None, ("1", "2"), 5.0, 13.5),)))
    assert (plain.segment, plain.limit) == ("device:x", 13.5)


def test_a_plug_is_a_contact_a_cavity_until_it_is_pulled_apart() -> None:
    spec = Plug(("1", "2"), ohms=0.005)
    assert ends_of(branches(spec)) == {
        "plug:x.1": ("x.1a", "x.1b", 0.005),
        "plug:x.2": ("x.2a", "x.2b", 0.005),
    }
    assert branches(spec, Rig(unplugged=("x",))) == []


def test_a_splice_is_a_star_of_contacts() -> None:
    found = ends_of(branches(Joint(ohms=0.002), pins=("1", "2", "3")))
    assert found == {f"joint:x.{p}": (f"x.{p}", "x.*", 0.002) for p in "123"}


def test_a_box_is_its_links() -> None:
    one = branches(Box((Link(("a", "b"), 12.0),)))
    assert ends_of(one) == {"device:x": ("x.a", "x.b", 12.0)}
    two = branches(Box((Link(("a", "b"), 12.0), Link(("a", "c"), 3.0))))
    assert [b.segment for b in two] == ["device:x.a-b", "device:x.a-c"]


def test_a_relay_is_a_coil_and_contacts_that_follow_it() -> None:
    coil, make = branches(Relay(coil_ohms=80.0, pull_in_v=7.2))
    assert (coil.segment, coil.a, coil.b) == ("relay:x.coil", "x.86", "x.85")
    assert (make.segment, make.role, make.coil) == (
        "relay:x.contact",
        Role.MAKE,
        "relay:x.coil",
    )
    assert make.limit == 7.2
    *_, rest = branches(Relay(80.0, 7.2, has_break_contact=True))
    assert (rest.segment, rest.b, rest.role) == (
        "relay:x.break-contact",
        "x.87a",
        Role.BREAK,
    )


def test_metal_is_no_branch() -> None:
    assert branches(Body(), pins=("a", "b")) == []
