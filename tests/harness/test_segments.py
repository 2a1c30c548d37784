"""Segments: the names of the contract's section 4, and how each can be bad."""

import pytest

from harness.kinds import Box, Link, Switch
from harness.neighbours import neighbours_of
from harness.segments import MODES, segments_of
from tests.harness.library import EVERY_LOOM, WREN, loom
from tests.harness.small_looms import (
    brown_out,
    device,
    horn_and_tail,
    relay_and_charger,
    starter,
    wire,
)
from tests.harness.small_looms import loom as small

CONTACT = {"open", "resistive"}


def test_every_part_of_the_small_loom_has_its_segment() -> None:
    assert set(segments_of(horn_and_tail())) == {
        *(f"wire:{k}" for k in range(1, 14)),
        *(f"plug:tail-plug.{k}" for k in (1, 2, 3)),
        "battery:battery",
        "fuse:main-fuse",
        "switch:key-switch.ON.30-15",
        "switch:key-switch.ON.30-57",
        "switch:key-switch.PARK.30-57",
        "switch:horn-button.PRESSED.1-2",
        "switch:brake-switch.PRESSED.1-2",
        "device:horn",
        "device:rear-lamp.tail",
        "device:rear-lamp.stop",
    }


@pytest.mark.parametrize(
    ("name", "kind", "ends", "modes"),
    [
        ("relay:relay.coil", "relay", ("86", "85"), {"open", "shorted"}),
        ("relay:relay.contact", "relay", ("30", "87"), {*CONTACT, "stuck"}),
        ("relay:relay.break-contact", "relay", ("30", "87a"), {*CONTACT, "stuck"}),
        ("diode:diode", "diode", ("a", "k"), {"open", "shorted"}),
        ("charger:alternator", "charger", ("pos", "neg"), {"dead", "shorted"}),
        ("battery:battery", "battery", ("pos", "neg"), {"weak", "dead"}),
        ("fuse:fuse", "fuse", ("1", "2"), {"blown", "resistive"}),
        ("device:head", "device", ("1", "2"), {"dead", "shorted"}),
        ("switch:switch.ON.1-2", "switch", ("1", "2"), {*CONTACT, "stuck"}),
    ],
)
def test_a_segment_has_its_ends_and_its_ways_of_being_bad(
    name: str, kind: str, ends: tuple[str, str], modes: set[str]
) -> None:
    found = segments_of(relay_and_charger())[name]
    owner = name.partition(":")[2].partition(".")[0]
    assert (found.name, found.kind, found.owner) == (name, kind, owner)
    assert found.ends == tuple(f"{owner}.{pin}" for pin in ends)
    assert set(found.modes) == modes <= set(MODES)


def test_a_splice_has_a_contact_at_each_pin() -> None:
    found = {n: s for n, s in segments_of(brown_out()).items() if s.kind == "joint"}
    assert set(found) == {f"joint:splice.{pin}" for pin in "123"}
    assert found["joint:splice.3"].ends == ("splice.3", "splice.*")


@pytest.mark.parametrize("file", EVERY_LOOM)
def test_a_wire_can_chafe_through_and_metal_cannot(file: str) -> None:
    h = loom(file)
    found = segments_of(h)
    for w in h.wires.values():
        modes = found[f"wire:{w.id}"].modes
        insulated = w.kind in {"wire", "cable"}
        assert ("earthed" in modes) is insulated, w.id
        assert set(modes) >= CONTACT
        beside = neighbours_of(h).get(f"wire:{w.id}")
        assert ("crossed" in modes) is bool(beside), w.id


def test_a_plug_of_one_cavity_has_nothing_to_swap() -> None:
    assert segments_of(starter())["plug:plug.1"].modes == ("open", "resistive")
    assert segments_of(horn_and_tail())["plug:tail-plug.2"].modes == (
        "open",
        "resistive",
        "crossed",
    )


def test_a_contact_sticks_once_however_many_positions_shut_it() -> None:
    # 30-57 is shut at ON and at PARK: the fault goes by the first of the two.
    found = segments_of(horn_and_tail())
    assert "stuck" in found["switch:key-switch.ON.30-57"].modes
    assert "stuck" in found["switch:key-switch.ON.30-15"].modes
    assert "stuck" not in found["switch:key-switch.PARK.30-57"].modes


def test_a_contact_that_is_shut_at_rest_is_not_seen_to_stick() -> None:
    spec = Switch(
        ("CLOSED", "OPEN"), (("CLOSED", (("1", "2"),)), ("OPEN", (("1", "3"),)))
    )
    h = small([device("points", spec)], [wire("1", "battery.pos", "points.1")])
    found = segments_of(h)
    assert "stuck" not in found["switch:points.CLOSED.1-2"].modes
    assert "stuck" in found["switch:points.OPEN.1-3"].modes
    # Nor does one that another position shuts as well.
    both = Switch(("A", "B"), (("A", (("1", "2"),)), ("B", (("1", "2"),))))
    h = small([device("points", both)], [wire("1", "battery.pos", "points.1")])
    assert not any("stuck" in s.modes for s in segments_of(h).values())


def test_a_box_of_one_link_is_one_segment_and_of_two_is_two() -> None:
    one = Box((Link(("a", "b"), 12.0),))
    two = Box((Link(("a", "b"), 12.0), Link(("b", "c"), 5.0)))
    for spec, names in ((one, {"device:x"}), (two, {"device:x.a-b", "device:x.b-c"})):
        h = small([device("x", spec)], [wire("1", "battery.pos", "x.a")])
        assert {n for n in segments_of(h) if n.startswith("device")} == names


@pytest.mark.parametrize("file", EVERY_LOOM)
def test_segments_are_sorted_by_name_and_named_by_it(file: str) -> None:
    found = segments_of(loom(file))
    assert list(found) == sorted(found)
    assert all(name == segment.name for name, segment in found.items())
    assert len(found) > (60 if file != WREN else 17)
