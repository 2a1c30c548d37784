"""Which stretch of the loom each segment and terminal lies in."""

import pytest

from harness.stretches import STRETCHES, stretch_of, terminal_stretches
from tests.harness.library import LOOMS, loom
from tests.harness.small_looms import horn_and_tail, positive_earth, relay_and_charger

STANDING = {"battery:battery", "wire:1", "wire:2", "fuse:main-fuse"}
CONSUMERS = {"device:horn", "device:rear-lamp.tail", "device:rear-lamp.stop"}
RETURN = {"wire:5", "wire:11", "wire:12", "wire:13", "plug:tail-plug.3"}


@pytest.mark.parametrize("turned", [False, True])
def test_the_small_loom_stretch_by_stretch(turned: bool) -> None:
    h = positive_earth(horn_and_tail()) if turned else horn_and_tail()
    placed = stretch_of(h)
    by_stretch = {
        word: {n for n, where in placed.items() if where == word} for word in STRETCHES
    }
    assert by_stretch["standing feed"] == STANDING
    assert by_stretch["consumers"] == CONSUMERS
    assert by_stretch["return"] == RETURN
    switched = {"wire:3", "wire:4", "wire:6", "wire:7", "wire:8", "wire:9", "wire:10"}
    switched |= {"plug:tail-plug.1", "plug:tail-plug.2"}
    switched |= {n for n in placed if n.startswith("switch:")}
    assert by_stretch["switched feed"] == switched


def test_sources_are_standing_feed_and_a_coil_is_a_consumer() -> None:
    placed = stretch_of(relay_and_charger())
    assert placed["charger:alternator"] == "standing feed"
    assert placed["relay:relay.coil"] == "consumers"
    assert placed["wire:14"] == "return"
    assert placed["wire:6"] == "switched feed"
    assert placed["diode:diode"] == "switched feed"


@pytest.mark.parametrize("file", LOOMS)
def test_every_segment_of_a_whole_bike_has_its_stretch(file: str) -> None:
    placed = stretch_of(loom(file))
    assert set(placed.values()) == set(STRETCHES)
    # The file's own names: 31 is a return and E a mount; 30 stands on the feed post.
    for name, word in placed.items():
        if name.startswith(("wire:31-", "wire:E-")) and file == LOOMS[0]:
            assert word == "return", name
    if file == LOOMS[0]:
        assert placed["wire:30-1"] == placed["wire:30-2"] == "standing feed"
        assert placed["wire:15-1"] == placed["wire:71-1"] == "switched feed"


def test_a_terminal_lies_where_its_segments_do() -> None:
    where = terminal_stretches(horn_and_tail())
    assert where["main-fuse.1"] == "standing feed"
    assert where["horn-button.2"] == "switched feed"
    assert where["horn.2"] == where["tail-plug.3b"] == "return"
    assert where["battery.neg"] == "return"
