"""Which wires and cavities lie beside one another."""

from dataclasses import replace

import pytest

from harness.kinds import Body, Load, Plug
from harness.model import Harness
from harness.neighbours import neighbours_of
from tests.harness.faulty_looms import side_by_side
from tests.harness.library import EVERY_LOOM, WHIMBREL, loom
from tests.harness.small_looms import device, horn_and_tail, wire
from tests.harness.small_looms import loom as small


def pairs(h: Harness) -> set[tuple[str, str]]:
    return {
        (one, other)
        for one, others in neighbours_of(h).items()
        for other in others
        if one < other
    }


def test_wires_in_adjacent_cavities_on_one_face_are_neighbours() -> None:
    # 4 and 5 enter face a of cavities 1 and 2, 9 that of 3; 6, 7 and 8 face b.
    assert {p for p in pairs(side_by_side()) if p[0].startswith("wire")} == {
        ("wire:4", "wire:5"),
        ("wire:5", "wire:9"),
        ("wire:6", "wire:7"),
        ("wire:7", "wire:8"),
    }


def test_cavities_are_adjacent_in_the_order_of_the_file() -> None:
    plug = device("plug", Plug(("9", "1", "5")))
    h = small([plug], [wire("1", "battery.pos", "plug.9a")])
    assert pairs(h) == {
        ("plug:plug.1", "plug:plug.9"),
        ("plug:plug.1", "plug:plug.5"),
    }
    assert neighbours_of(h)["plug:plug.1"] == ("plug:plug.5", "plug:plug.9")


def between_places(*ends: tuple[str, str]) -> Harness:
    """Return wires, 1, 2, 3 ..., each between two devices of two places."""
    devices = [
        device("here", Load(5.0), "place-1"),
        device("also-here", Load(5.0), "place-1"),
        device("there", Body(), "place-2"),
        device("yonder", Body(), "place-3"),
    ]
    wires = [wire(str(k), *pair) for k, pair in enumerate(ends, start=1)]
    return small(devices, wires, places=3)


def test_wires_between_the_same_two_places_follow_one_another() -> None:
    h = between_places(
        ("here.1", "there.a"),
        ("here.2", "yonder.a"),
        ("there.b", "also-here.1"),
        ("also-here.2", "there.c"),
    )
    # 1, 3 and 4 run between places 1 and 2, whichever way round; 2 does not.
    assert pairs(h) == {("wire:1", "wire:3"), ("wire:3", "wire:4")}


def test_wires_inside_one_place_are_neighbours_too() -> None:
    h = between_places(("here.1", "also-here.1"), ("here.2", "also-here.2"))
    assert pairs(h) == {("wire:1", "wire:2")}


def test_wires_that_share_a_terminal_are_not_neighbours() -> None:
    h = between_places(("here.1", "there.a"), ("here.1", "there.b"))
    assert pairs(h) == set()
    # Nor are those whose place is not known.
    assert "wire:5" not in neighbours_of(horn_and_tail())


def test_bare_metal_has_no_neighbours() -> None:
    h = between_places(("here.1", "there.a"), ("here.2", "there.b"))
    straps = [replace(w, kind="strap") for w in h.wires.values()]
    bare = Harness.build(
        title="Straps",
        volts=12.0,
        earth="negative",
        places=h.places.values(),
        devices=h.devices.values(),
        wires=straps,
    )
    assert pairs(h) == {("wire:1", "wire:2")}
    assert pairs(bare) == set()


@pytest.mark.parametrize("file", EVERY_LOOM)
def test_neighbours_are_mutual_sorted_and_never_themselves(file: str) -> None:
    beside = neighbours_of(loom(file))
    assert beside
    for name, others in beside.items():
        assert list(others) == sorted(set(others))
        assert name not in others
        assert all(name in beside[other] for other in others)


def test_in_a_whole_bike_some_lie_at_plugs_and_some_along_the_loom() -> None:
    h = loom(WHIMBREL)
    at_plugs = {
        end.rpartition(".")[0]
        for end in (e for w in h.wires.values() for e in (w.start, w.end))
        if h.devices[end.partition(".")[0]].kind == "plug"
    }
    assert at_plugs
    along = [
        (h.wires[one[5:]], h.wires[other[5:]])
        for one, other in pairs(h)
        if one.startswith("wire:")
    ]
    alone = [
        pair
        for pair in along
        if not any(
            h.devices[end.partition(".")[0]].kind == "plug"
            for w in pair
            for end in (w.start, w.end)
        )
    ]
    assert alone
    for one, other in alone:
        places = [
            {h.devices[e.partition(".")[0]].place for e in (w.start, w.end)}
            for w in (one, other)
        ]
        assert places[0] == places[1]
