"""Pulling a plug or a fuse, while a short is among the suspects."""

from functools import cache

import numpy as np
import pytest

from harness.kinds import Fuse, Plug
from harness.likelihood import lamp_chances
from harness.moves import SHORTS_SHARE, move_blocks
from harness.segments import Fault
from harness.sets import FaultSet
from harness.weighing import sets_for
from tests.harness.library import WHIMBREL, loom
from tests.harness.small_looms import horn_and_tail

SHORT: FaultSet = (Fault("wire:6", "earthed"),)
OPEN: FaultSet = (Fault("wire:5", "open"),)


@cache
def offered(shorts: float) -> tuple[object, ...]:
    weight = np.array([1.0 - shorts, shorts])
    return move_blocks(horn_and_tail(), [OPEN, SHORT], weight)


def test_nothing_is_pulled_for_an_open_wire() -> None:
    assert offered(0.0) == ()
    assert offered(SHORTS_SHARE / 2) == ()
    assert offered(2 * SHORTS_SHARE)


def test_a_lamp_takes_the_place_of_the_fuse_and_never_less_than_a_lamp() -> None:
    h = loom(WHIMBREL)
    blocks = move_blocks(h, [OPEN, (Fault("wire:30-3", "earthed"),)], np.ones(2) / 2)
    for block in blocks:
        if block.tool == "test-lamp":
            (test,) = block.tests
            (fuse,) = test.rig.removed
            assert isinstance(h.devices[fuse].spec, Fuse)
            assert {test.probe, test.clip} == {f"{fuse}.1", f"{fuse}.2"}
        else:
            assert block.tool == "ohmmeter"
            assert block.rig.battery_lead == "off"
            for plug in block.rig.unplugged:
                assert isinstance(h.devices[plug].spec, Plug)
        assert not block.rig.jumpers


def test_a_short_lights_the_lamp_in_the_fuses_place_and_a_sound_loom_does_not() -> None:
    h = horn_and_tail()
    blocks = move_blocks(h, [OPEN, SHORT], np.array([0.5, 0.5]))
    lamps = [b for b in blocks if b.tool == "test-lamp"]
    shown = np.stack([b.read(sets_for(h), [(), SHORT])[:, 0] for b in lamps])
    lit = lamp_chances(shown, h.volts)[0] > 0.9
    assert (lit[:, 1] & ~lit[:, 0]).any(), "with the tail unplugged only a short can"


@pytest.mark.parametrize("file", [WHIMBREL])
def test_the_rigs_in_which_a_fuse_feeds_least_come_first(file: str) -> None:
    h = loom(file)
    blocks = move_blocks(h, [OPEN, (Fault("wire:30-3", "earthed"),)], np.ones(2) / 2)
    first = next(b for b in blocks if b.tool == "test-lamp")
    assert not first.rig.moved, "with everything at rest hardly anything flows"
