"""Segments: the names of the contract's section 4, and how each can be bad."""

import pytest

from harness.kinds import Box, Link
from harness.segments import MODES, segments_of
from tests.harness.library import LOOMS, loom
from tests.harness.small_looms import (
    brown_out,
    device,
    horn_and_tail,
    relay_and_charger,
    wire,
)
from tests.harness.small_looms import loom as small


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
        ("relay:relay.coil", "relay", ("86", "85"), {"open"}),
        ("relay:relay.contact", "relay", ("30", "87"), {"open", "resistive"}),
        ("relay:relay.break-contact", "relay", ("30", "87a"), {"open", "resistive"}),
        ("diode:diode", "diode", ("a", "k"), {"open"}),
        ("charger:alternator", "charger", ("pos", "neg"), {"dead"}),
        ("battery:battery", "battery", ("pos", "neg"), {"weak", "dead"}),
        ("fuse:fuse", "fuse", ("1", "2"), {"blown", "resistive"}),
        ("device:head", "device", ("1", "2"), {"dead"}),
        ("switch:switch.ON.1-2", "switch", ("1", "2"), {"open", "resistive"}),
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


def test_a_wire_can_chafe_through_and_metal_cannot() -> None:
    h = loom(LOOMS[0])
    found = segments_of(h)
    for w in h.wires.values():
        modes = found[f"wire:{w.id}"].modes
        assert ("earthed" in modes) is (w.kind in {"wire", "cable"}), w.id
        assert {"open", "resistive"} <= set(modes)


def test_a_box_of_one_link_is_one_segment_and_of_two_is_two() -> None:
    one = Box((Link(("a", "b"), 12.0),))
    two = Box((Link(("a", "b"), 12.0), Link(("b", "c"), 5.0)))
    for spec, names in ((one, {"device:x"}), (two, {"device:x.a-b", "device:x.b-c"})):
        h = small([device("x", spec)], [wire("1", "battery.pos", "x.a")])
        assert {n for n in segments_of(h) if n.startswith("device")} == names


@pytest.mark.parametrize("file", LOOMS)
def test_segments_are_sorted_by_name_and_named_by_it(file: str) -> None:
    found = segments_of(loom(file))
    assert list(found) == sorted(found)
    assert all(name == segment.name for name, segment in found.items())
    assert len(found) > 100
