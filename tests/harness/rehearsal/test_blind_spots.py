"""What the offered tests cannot tell, on looms made for it and held against the law."""

from functools import cache
from itertools import chain

import numpy as np

from harness.advice import rigs_considered
from harness.circuit import FloatArray
from harness.faults import Fault
from harness.findings import Test
from harness.kinds import Body, Joint, Load
from harness.model import Harness
from harness.offered import Offered
from harness.rehearsal.blind_spots import BlindSpots, blind_spots
from harness.rehearsal.differences import places
from harness.weighing import sets_for
from tests.harness.library import WREN
from tests.harness.library import loom as loom_of
from tests.harness.small_looms import device, horn_and_tail, loom, wire


def horn_on_a_snap_connector() -> Harness:
    """Return a horn fed through a bullet connector: two contacts and a middle."""
    return loom(
        [device("snap", Joint()), device("horn", Load(ohms=4.8))],
        [
            wire("1", "battery.pos", "snap.1"),
            wire("2", "snap.2", "horn.1"),
            wire("3", "horn.2", "frame.horn"),
        ],
    )


def two_straps() -> Harness:
    """Return a horn on the engine, which two straps join to the frame."""
    return loom(
        [device("engine", Body()), device("horn", Load(ohms=4.8))],
        [
            wire("1", "battery.pos", "horn.1"),
            wire("2", "horn.2", "engine.horn"),
            wire("left", "engine.left", "frame.left", 0.001),
            wire("right", "engine.right", "frame.right", 0.001),
        ],
    )


@cache
def of_the_wren() -> BlindSpots:
    return blind_spots(loom_of(WREN))


def readings(h: Harness, fault: Fault | None) -> list[FloatArray]:
    """Return where every test of the ordinary rigs reads, block by block."""
    sets, wanted = sets_for(h), [() if fault is None else (fault,)]
    return [
        places(h, block.tests[0], block.read(sets, wanted))[0]
        for rig in rigs_considered(h)
        for block in Offered(h).blocks(rig)
    ]


def furthest(one: list[FloatArray], other: list[FloatArray]) -> float:
    return max(
        float(np.abs(a - b).max()) for a, b in zip(one, other, strict=True) if a.size
    )


def segments(members: tuple[Fault, ...]) -> set[str]:
    return {name for fault in members for name in fault.segments}


def test_the_two_halves_of_a_snap_connector_cannot_be_told_apart() -> None:
    found = blind_spots(horn_on_a_snap_connector())
    halves = [
        members
        for members in found.alike
        if segments(members) == {"joint:snap.1", "joint:snap.2"}
    ]
    assert {fault.mode for members in halves for fault in members} == {
        "open",
        "resistive",
    }


def test_nobody_sees_that_one_of_two_straps_is_gone() -> None:
    found = blind_spots(two_straps())
    assert Fault("wire:left", "open") in found.unseen
    assert Fault("wire:right", "open") in found.unseen


def test_what_stops_the_horn_is_never_unseen() -> None:
    found = blind_spots(horn_and_tail())
    assert Fault("wire:4", "open") not in found.unseen
    assert Fault("device:horn", "dead") not in found.unseen


def test_an_unseen_fault_changes_no_reading_of_the_ordinary_rigs() -> None:
    h, healthy = loom_of(WREN), readings(loom_of(WREN), None)
    assert of_the_wren().unseen
    for fault in of_the_wren().unseen:
        assert furthest(readings(h, fault), healthy) <= 1.0


def test_alike_faults_read_alike_one_and_all() -> None:
    h = loom_of(WREN)
    assert of_the_wren().alike
    for members in of_the_wren().alike:
        read = [readings(h, fault) for fault in members]
        for k, one in enumerate(read):
            assert all(furthest(one, other) <= 1.0 for other in read[:k])


def test_of_all_pairs_that_read_alike_none_is_left_out() -> None:
    """Faults that read as another segment's are in a class, or unseen."""
    h = loom_of(WREN)
    known = {*of_the_wren().unseen, *chain.from_iterable(of_the_wren().alike)}
    opens = [Fault(f"wire:{n}", "open") for n in "12345678"]
    read = {fault: readings(h, fault) for fault in opens}
    for one in opens:
        for other in opens:
            if one < other and furthest(read[one], read[other]) <= 1.0:
                assert {one, other} & known


def test_a_class_has_two_segments_at_least_and_no_intermittent_contact() -> None:
    for members in of_the_wren().alike:
        assert len({fault.segments for fault in members}) > 1
        assert not any(fault.moved for fault in members)


def test_an_eye_on_a_lamp_and_a_meter_have_one_scale_of_differences() -> None:
    h = horn_and_tail()
    rig = rigs_considered(h)[0]
    volts = np.array([12.0, 12.1, 13.6])
    at = places(h, Test(rig, "voltmeter", "horn.1", "frame.horn"), volts)
    assert at[1] - at[0] < 1.0 < at[2] - at[0]
    eye = places(h, Test(rig, "eye", device="horn"), np.array([0.0, 0.6, 1.0]))
    assert abs(eye[2] - eye[0]) > 1.0
