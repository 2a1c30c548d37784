"""The test beyond those offered that would tell alike faults apart."""

import numpy as np
import pytest

from harness.faults import Fault
from harness.findings import finding_from
from harness.model import Harness
from harness.rehearsal.differences import places
from harness.rehearsal.probes import Probe, probe_for
from harness.sets import FaultSet
from harness.weighing import sets_for
from harness.words import as_json_test
from tests.harness.rehearsal.test_blind_spots import (
    horn_on_a_snap_connector,
    two_straps,
)
from tests.harness.small_looms import horn_and_tail

SNAP = horn_on_a_snap_connector()
STRAPS = two_straps()
HALVES: list[FaultSet] = [
    (Fault("joint:snap.1", "open"),),
    (Fault("joint:snap.2", "open"),),
]


def even(count: int) -> np.ndarray:
    return np.ones(count) / count


def test_between_the_halves_of_a_connector_the_middle_is_probed() -> None:
    probe = probe_for(sets_for(SNAP), HALVES, even(2))
    assert probe.test is not None
    assert "snap.*" in {probe.test.probe, probe.test.clip}
    assert "the middle of snap" in probe.words


def test_a_strap_beside_another_is_told_by_the_clamp() -> None:
    probe = probe_for(sets_for(STRAPS), [(), (Fault("wire:left", "open"),)], even(2))
    assert probe.test is not None
    assert probe.test.tool == "ammeter"


@pytest.mark.parametrize(
    ("h", "wanted"),
    [
        (SNAP, HALVES),
        (STRAPS, [(), (Fault("wire:left", "open"),)]),
        (
            horn_and_tail(),
            [(Fault("wire:3", "earthed"),), (Fault("wire:8", "earthed"),)],
        ),
    ],
)
def test_the_probe_does_tell_them_apart(h: Harness, wanted: list[FaultSet]) -> None:
    sets = sets_for(h)
    test = probe_for(sets, wanted, even(len(wanted))).test
    assert test is not None
    at = places(sets.predictions.h, test, sets.shown([test], wanted)[0])
    assert abs(float(at[0] - at[1])) > 1.0


def test_a_probe_on_pins_can_be_entered_as_a_finding() -> None:
    h = horn_and_tail()
    wanted: list[FaultSet] = [
        (Fault("wire:3", "earthed"),),
        (Fault("wire:8", "earthed"),),
    ]
    test = probe_for(sets_for(h), wanted, even(2)).test
    assert test is not None
    told = dict(as_json_test(test)) | {"reads": "open"}
    assert finding_from(h, told, id_="f1").test == test


def test_where_no_reading_helps_they_are_parted_or_tried() -> None:
    h = horn_and_tail()
    same: list[FaultSet] = [(Fault("wire:4", "open"),), (Fault("wire:4", "open"),)]
    assert probe_for(sets_for(h), same, even(2)) == Probe(
        None,
        "take wire 4 (orange with black tracer, OGBK) from horn button, pin 2 to horn, "
        "pin 1 off and try it by itself",
    )
