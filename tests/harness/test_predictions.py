"""What every test would show under every single fault."""

from functools import cache

import numpy as np
import pytest

from harness.consumers import consumers
from harness.errors import HarnessError
from harness.faults import Fault, single_faults
from harness.findings import Test, finding_from
from harness.model import Harness
from harness.predictions import (
    Predictions,
    lead_off,
    predictions_for,
    symptom_tests,
)
from harness.rig import rig_from
from tests.harness.compared import agree, from_circuit
from tests.harness.direct import Bench, opened_by_each
from tests.harness.library import WHIMBREL, WREN, loom
from tests.harness.small_looms import (
    HORN,
    ON,
    brown_out,
    bulbs_in_series,
    horn_and_tail,
    relay_and_charger,
)


@cache
def bike() -> Harness:
    return horn_and_tail()


def known() -> Predictions:
    return predictions_for(bike())


def row_of(fault: Fault) -> int:
    return known().faults.index(fault)


def test_the_hypotheses_are_nothing_wrong_and_every_single_fault() -> None:
    assert known().faults == (None, *single_faults(bike()))
    for segment in ("wire:6", "wire:9", "plug:tail-plug.2", "device:horn"):
        mine = [row_of(f) for f in single_faults(bike()) if segment in f.segments]
        assert known().rows_of[segment].tolist() == mine
    # Crossed wires are a fault of either.
    crossed = row_of(Fault("wire:6", "crossed", other="wire:9"))
    assert crossed in known().rows_of["wire:6"]
    assert crossed in known().rows_of["wire:9"]


def test_predictions_are_remembered_by_what_the_loom_is() -> None:
    assert predictions_for(horn_and_tail()) is known()
    assert predictions_for(relay_and_charger()) is not known()


AT_HORN = {"rig": HORN, "tool": "voltmeter", "probe": "horn.2", "reads": 1.0}
CLAMPED = {"rig": HORN, "tool": "ammeter", "wire": "4", "reads": 1.0}
LIT = {"rig": HORN, "tool": "test-lamp", "probe": "horn.2", "reads": "lit"}
COLD = {
    "rig": {"battery-lead": "off"},
    "tool": "ohmmeter",
    "probe": "horn.2",
    "reads": 1.0,
}


@pytest.mark.parametrize("given", [AT_HORN, CLAMPED, LIT, COLD])
def test_what_a_test_shows_is_what_a_circuit_with_the_fault_shows(
    given: dict[str, object],
) -> None:
    test = finding_from(bike(), given, id_="x").test
    shown = known().shown(test)
    place = (test.wire,) if test.wire else (test.probe, test.clip)
    for row, fault in enumerate(known().faults):
        faults = () if fault is None else (fault,)
        bench = Bench(bike(), test.rig, faults, known().opened[row])
        read = from_circuit(bench, test.tool, place)
        assert agree(bike(), test.tool, float(shown[row]), read), fault


def eye(rig: dict[str, object], device: str) -> Test:
    return Test(rig=rig_from(bike(), rig), tool="eye", device=device)


def test_the_eye_sees_a_share_of_healthy_volts() -> None:
    shown = known().shown(eye(HORN, "horn"))
    assert float(shown[0]) == pytest.approx(1.0)
    assert float(shown[row_of(Fault("wire:4", "open"))]) == pytest.approx(0, abs=1e-6)
    assert float(shown[row_of(Fault("device:horn", "dead"))]) == 0.0
    # Shorted, it does nothing either, whatever volts it has.
    assert float(shown[row_of(Fault("device:horn", "shorted"))]) == 0.0
    # 3 ohm before 4.8: the horn keeps about six tenths.
    bad = float(shown[row_of(Fault("wire:4", "resistive", 3.0))])
    assert bad == pytest.approx(4.8 / 7.8, abs=0.02)


def test_a_consumer_that_is_off_in_the_healthy_bike_is_judged_by_nominal_volts() -> (
    None
):
    shown = known().shown(eye({}, "horn"))
    assert float(np.abs(shown).max()) < 0.01


def test_the_eye_on_a_fuse_sees_what_has_blown_it() -> None:
    shown = known().shown(eye({}, "main-fuse"))
    assert float(shown[0]) == 0.0
    assert float(shown[row_of(Fault("fuse:main-fuse", "blown"))]) == 1.0
    assert float(shown[row_of(Fault("wire:6", "earthed"))]) == 1.0
    assert float(shown[row_of(Fault("fuse:main-fuse", "resistive", 3.0))]) == 0.0


def test_a_finding_is_likeliest_under_what_explains_it() -> None:
    given = {"rig": HORN, "tool": "voltmeter", "probe": "horn.2", "reads": 12.5}
    likely = known().log_likelihood(finding_from(bike(), given, id_="x"))
    assert int(likely.argmax()) == row_of(Fault("wire:5", "open"))
    assert likely.shape == (len(known().faults),)
    dead = {"rig": HORN, "tool": "eye", "device": "horn", "reads": "dead"}
    chance = np.exp(known().log_likelihood(finding_from(bike(), dead, id_="x")))
    assert float(chance[0]) < 0.01
    assert float(chance[row_of(Fault("wire:5", "open"))]) > 0.99


def test_the_same_reading_is_weighed_once() -> None:
    given = {"rig": ON, "tool": "voltmeter", "probe": "horn-button.1", "reads": 12.5}
    one = known().log_likelihood(finding_from(bike(), given, id_="a"))
    two = known().log_likelihood(finding_from(bike(), given, id_="b"))
    assert one is two


def test_where_a_fault_finds_no_rest_any_reading_is_as_likely() -> None:
    h = brown_out()
    p = predictions_for(h)
    row = p.faults.index(Fault("plug:plug.1", "resistive", 30.0))
    given = {"rig": {"switch": "ON"}, "tool": "voltmeter", "probe": "relay.86"}
    at = [
        float(p.log_likelihood(finding_from(h, given | {"reads": v}, id_="x"))[row])
        for v in (0.0, 6.0, 12.0)
    ]
    assert at == pytest.approx([at[0]] * 3)


def test_while_the_loom_is_moved_a_contact_that_parts_is_open_or_not() -> None:
    given = {"rig": HORN, "tool": "voltmeter", "probe": "horn.1", "reads": 0.0}
    at_rest = known().log_likelihood(finding_from(bike(), given, id_="x"))
    moving = finding_from(bike(), given | {"moving": True}, id_="y")
    while_moved = known().log_likelihood(moving)
    loose = row_of(Fault("wire:4", "open", moved=True))
    broken = row_of(Fault("wire:4", "open"))
    assert float(at_rest[loose]) == pytest.approx(float(at_rest[0]))
    # Half of the time it is open, and only then are there no volts.
    expected = np.log((np.exp(at_rest[0]) + np.exp(at_rest[broken])) / 2)
    assert float(while_moved[loose]) == pytest.approx(float(expected))
    steady = [i for i, f in enumerate(known().faults) if f is None or not f.moved]
    assert while_moved[steady].tolist() == at_rest[steady].tolist()


def test_every_contact_that_parts_stands_beside_the_same_one_open() -> None:
    faults = known().faults
    assert len(known().parted) == sum(1 for f in faults if f is not None and f.moved)
    for loose, broken in known().parted.tolist():
        one, other = faults[loose], faults[broken]
        assert one is not None
        assert other is not None
        assert (one.moved, other.moved) == (True, False)
        assert (one.segment, one.mode) == (other.segment, other.mode)


def test_an_ohmmeter_s_rig_is_rest_with_the_lead_off() -> None:
    assert lead_off(bike()).as_mapping() == {"battery-lead": "off"}


def test_symptoms_are_looks_at_every_consumer_in_its_own_rigs() -> None:
    tests = symptom_tests(bike())
    assert [(t.device, t.rig) for t in tests] == [
        (c.device, c.rig) for c in consumers(bike())
    ]
    assert {t.tool for t in tests} == {"eye"}
    assert symptom_tests(bulbs_in_series(10)) == ()


def test_a_loom_without_metal_has_nowhere_to_clip_to() -> None:
    lonely = Harness.build(
        title="No metal",
        volts=12.0,
        earth="negative",
        devices=[bike().devices["battery"]],
    )
    with pytest.raises(HarnessError, match="meets no body"):
        predictions_for(lonely)


def test_the_fuses_of_a_whole_bike_are_blown_by_shorts_behind_them_only() -> None:
    p = predictions_for(loom(WHIMBREL))
    for fault, opened in zip(p.faults, p.opened, strict=True):
        if fault is None or not fault.is_short:
            assert opened == frozenset(), fault
    assert p.opened_by == {
        fault: opened
        for fault, opened in zip(p.faults, p.opened, strict=True)
        if fault is not None and opened
    }
    horn_feed = p.faults.index(Fault("wire:71-1", "earthed"))
    assert "fuse:sig-fuse" in p.opened[horn_feed]
    # Before every fuse: only the alternator, behind the main one, can blow that.
    before_all = p.faults.index(Fault("wire:30-1", "earthed"))
    assert p.opened[before_all] == {"fuse:main-fuse"}
    assert known().opened[row_of(Fault("wire:1", "earthed"))] == frozenset()


@pytest.mark.parametrize("file", [WREN, "quillow-sprat-125.toml"])
def test_the_fuses_that_shorts_have_opened_are_those_of_each_by_itself(
    file: str,
) -> None:
    h = loom(file)
    assert predictions_for(h).opened_by == opened_by_each(h)
