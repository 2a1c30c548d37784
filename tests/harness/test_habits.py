"""The two habits of the trade that the advice is measured against."""

from functools import cache

import numpy as np
import pytest

from harness.consumers import consumers
from harness.faults import Fault
from harness.habits import Habits
from harness.predictions import predictions_for
from tests.harness.small_looms import horn_and_tail


@cache
def habits() -> Habits:
    return Habits(predictions_for(horn_and_tail()))


def row_of(fault: Fault) -> int:
    return habits().predictions.faults.index(fault)


def test_the_path_follows_the_current_out_and_back() -> None:
    horn = next(c for c in consumers(habits().predictions.h) if c.device == "horn")
    path = habits().path(horn)
    assert path.terminals == (
        *("battery.pos", "main-fuse.1", "main-fuse.2", "key-switch.30"),
        *("key-switch.15", "horn-button.1", "horn-button.2", "horn.1"),
        *("horn.2", "battery.neg"),
    ), "metal itself is no point that could be lost"
    assert path.feed_count == 8


@pytest.mark.parametrize(
    ("fault", "device"),
    [
        (Fault("wire:5", "open"), "horn"),
        (Fault("wire:10", "open"), "rear-lamp.stop"),
        (Fault("wire:7", "open"), "rear-lamp.tail"),
        (Fault("wire:2", "open"), "horn"),
    ],
)
def test_the_hunt_starts_at_the_first_consumer_that_is_dead(
    fault: Fault, device: str
) -> None:
    assert habits().complaint(row_of(fault)).device == device


@pytest.mark.parametrize(
    ("fault", "tests"),
    [
        # Walking stops at the first terminal that reads wrong.
        (Fault("wire:1", "open"), 2),
        (Fault("wire:2", "open"), 4),
        (Fault("wire:3", "open"), 6),
        (Fault("wire:4", "open"), 8),
        # A return that has lost its earth: on to the first that reads right again.
        (Fault("wire:5", "open"), 10),
        # A dead horn leaves every terminal right: to the end of the way.
        (Fault("device:horn", "dead"), 10),
    ],
)
def test_walking_from_the_battery_outward(fault: Fault, tests: int) -> None:
    assert habits().walking(row_of(fault)) == tests


@pytest.mark.parametrize(
    "fault",
    [
        *(Fault(f"wire:{k}", "open") for k in (1, 2, 3, 4, 5)),
        Fault("switch:horn-button.PRESSED.1-2", "open"),
        Fault("fuse:main-fuse", "blown"),
    ],
)
def test_halving_takes_the_logarithm_of_the_way(fault: Fault) -> None:
    # G2 [calc H]: ceil(log2 N) at the worst, N terminals of the path.
    count = len(habits().wrong(row_of(fault))[0].terminals)
    assert 1 <= habits().halving(row_of(fault)) <= int(np.ceil(np.log2(count)))


def test_what_reads_wrong_is_told_by_what_it_should_read() -> None:
    path, wrong = habits().wrong(row_of(Fault("wire:3", "open")))
    first = wrong.index(True)
    assert path.terminals[first] == "horn-button.1"
    assert wrong[:first] == [False] * first
    healthy_path, healthy = habits().wrong(0)
    assert healthy == [False] * len(healthy_path.terminals)
