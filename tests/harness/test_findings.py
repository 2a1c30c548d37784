"""Findings as a file or form gives them: read, or refused with the reason."""

from functools import cache
from math import inf, isnan
from typing import Any

import pytest

from harness.case import Case
from harness.errors import HarnessError
from harness.findings import finding_from, is_fuse, segment_seen
from harness.kinds import Body
from harness.model import Device, Harness, Wire
from tests.harness.small_looms import HORN, LEAD_OFF, ON, horn_and_tail

RUNNING: dict[str, object] = {"engine": "running"}


@cache
def bike() -> Harness:
    return horn_and_tail()


def lamp(**more: object) -> dict[str, object]:
    return {"tool": "test-lamp", "probe": "horn.1", "reads": "lit"} | more


def meter(**more: object) -> dict[str, object]:
    return {"tool": "voltmeter", "probe": "horn.1", "reads": 12.1} | more


def ohms(**more: object) -> dict[str, object]:
    given: dict[str, object] = {"rig": LEAD_OFF, "tool": "ohmmeter", "reads": 4.9}
    return given | {"probe": "horn.1", "clip": "horn.2"} | more


def clamp(**more: object) -> dict[str, object]:
    return {"tool": "ammeter", "wire": "4", "reads": 2.4, "rig": HORN} | more


def eye(**more: object) -> dict[str, object]:
    return {"tool": "eye", "device": "horn", "reads": "dead"} | more


def test_a_clip_that_is_not_named_is_on_the_first_body() -> None:
    finding = finding_from(bike(), lamp(rig=ON), id_="f1")
    assert finding.test.clip == bike().first_body == "frame.battery"
    assert finding.test.rig.moved == (("key-switch", "ON"),)
    assert (finding.id, finding.reads) == ("f1", "lit")
    assert isnan(finding.value)


def test_a_finding_keeps_its_own_id_and_may_say_when_and_by_whom() -> None:
    given = lamp(id="f7", at="2026-11-25T10:00:00Z", by="Ada", note="rain")
    assert finding_from(bike(), given, id_="f1").id == "f7"


@pytest.mark.parametrize(
    ("given", "reads", "value"),
    [
        (meter(reads=12.1), "12.1", 12.1),
        (meter(reads=-0.25), "-0.25", -0.25),
        (meter(reads="12,1"), "12.1", 12.1),
        (meter(reads=0), "0", 0.0),
        (ohms(reads=4.9), "4.9", 4.9),
        (ohms(reads="open"), "open", inf),
        (ohms(reads=0), "0", 0.0),
        (clamp(reads=-2.4), "-2.4", -2.4),
        (clamp(reads="0,35"), "0.35", 0.35),
    ],
)
def test_a_meter_s_reading_is_a_number(
    given: dict[str, object], reads: str, value: float
) -> None:
    finding = finding_from(bike(), given, id_="f1")
    assert (finding.reads, finding.value) == (reads, value)


@pytest.mark.parametrize(
    ("device", "reads", "segment"),
    [
        ("horn", "works", "device:horn"),
        ("rear-lamp.stop", "weak", "device:rear-lamp.stop"),
        ("main-fuse", "blown", "fuse:main-fuse"),
    ],
)
def test_the_eye_looks_at_consumers_filaments_and_fuses(
    device: str, reads: str, segment: str
) -> None:
    finding = finding_from(bike(), eye(device=device, reads=reads), id_="f1")
    assert finding.test.device == device
    assert segment_seen(bike(), device) == segment
    assert is_fuse(bike(), device) is segment.startswith("fuse")


def test_a_clamp_goes_round_one_wire() -> None:
    finding = finding_from(bike(), clamp(), id_="f1")
    assert finding.test.wire == "4"
    assert finding.test.probe == finding.test.clip == finding.test.device == ""


def test_a_finding_may_have_been_taken_while_the_loom_was_moved() -> None:
    assert finding_from(bike(), eye(moving=True), id_="f1").moving is True
    assert finding_from(bike(), eye(), id_="f1").moving is False
    still = finding_from(bike(), eye(moving=False), id_="f1")
    moved = finding_from(bike(), eye(moving=True), id_="f1")
    assert still.test == moved.test


def test_volts_may_be_read_with_the_engine_running_and_the_lead_off() -> None:
    # It is unwise (check value Z13), but somebody may have done it: it is no lie.
    given = meter(rig={"battery-lead": "off", "engine": "running"}, reads=0)
    assert finding_from(bike(), given, id_="f1").test.rig.engine_running


REFUSED: list[tuple[str, dict[str, object], str]] = [
    # Contract section 3: a finding that is physically impossible to take.
    ("ohms on a live loom", ohms(rig={}), "battery connected"),
    ("ohms with the key on", ohms(rig=ON), 'say battery-lead = "off"'),
    ("ohms while the engine runs", ohms(rig=LEAD_OFF | RUNNING), "engine running"),
    ("ohms with all of it live", ohms(rig=RUNNING), "stop the engine"),
    ("a clamp on no wire", clamp(wire="44"), "is no wire of this harness"),
    ("a clamp nowhere", {"tool": "ammeter", "reads": 1.0}, "is no wire"),
    ("a wire by its number alone", clamp(wire=4), "is no wire"),
    ("a wire's segment", clamp(wire="wire:4"), "is no wire"),
    ("a clamp with a probe", clamp(probe="horn.1"), "goes round one wire"),
    ("a clamp with a clip", clamp(clip="frame.e"), "name the wire alone"),
    ("a clamp on a device", clamp(device="horn"), "goes round one wire"),
    ("a lamp round a wire", lamp(wire="4"), "has no wire"),
    ("an eye on a wire", eye(wire="4"), "name the device alone"),
    ("a word on a clamp", clamp(reads="lit"), "not a reading"),
    ("open amperes", clamp(reads="open"), "not a reading"),
    ("not a number of amperes", clamp(reads="nan"), "not a reading"),
    ("milliamperes for amperes", clamp(reads=2400), "set to milliamperes"),
    ("moved, perhaps", eye(moving="yes"), "say moving = true"),
    ("moved by a number", eye(moving=1), "say moving = true"),
    ("no such device", lamp(probe="klaxon.1"), "no terminal"),
    ("no such pin", lamp(probe="horn.7"), "no terminal"),
    ("no such clip", lamp(clip="frame.moon"), "no terminal"),
    ("no probe", {"tool": "test-lamp", "reads": "lit"}, "no terminal"),
    ("probe on the clip", lamp(probe="frame.horn"), "one point"),
    ("two pins of one metal", lamp(probe="frame.horn", clip="frame.tail"), "one point"),
    ("the same pin twice", lamp(probe="horn.1", clip="horn.1"), "one point"),
    ("a device taken out", eye(rig={"removed": ["horn"]}), "taken out"),
    # And what nobody could mean.
    ("no such tool", lamp(tool="multimeter"), "no tool is called 'multimeter'"),
    ("no tool", {"probe": "horn.1", "reads": "lit"}, "no tool is called None"),
    ("an unknown key", lamp(colour="red"), "there is no key 'colour'"),
    ("a lamp at a device", lamp(device="horn"), "has no device"),
    ("an eye with a probe", eye(probe="horn.1"), "no probe or clip"),
    ("nothing to look at", eye(device="frame"), "nothing to look at"),
    ("a switch by eye", eye(device="key-switch"), "nothing to look at"),
    ("a lamp of two filaments", eye(device="rear-lamp"), "nothing to look at"),
    ("no such filament", eye(device="rear-lamp.fog"), "nothing to look at"),
    ("no device", {"tool": "eye", "reads": "dead"}, "nothing to look at"),
    ("a word of another tool", lamp(reads="works"), "use lit, dim, dark"),
    ("a number on a lamp", lamp(reads=12.0), "use lit, dim, dark"),
    ("no reading", {"tool": "test-lamp", "probe": "horn.1"}, "use lit, dim, dark"),
    ("a horn blown", eye(reads="blown"), "use works, weak, dead"),
    ("a fuse dead", eye(device="main-fuse"), "use intact, blown"),
    ("a word on a meter", meter(reads="lots"), "not a reading"),
    ("open volts", meter(reads="open"), "not a reading"),
    ("no number at all", meter(reads=None), "not a reading"),
    ("not a number", meter(reads="nan"), "not a reading"),
    ("endless volts", meter(reads=inf), "not a reading"),
    ("yes", meter(reads=True), "not a reading"),
    ("millivolts for volts", meter(reads=12600), "decimal point"),
    ("negative ohms", ohms(reads=-3), "never negative"),
    ("no such switch", lamp(rig={"ignition": "ON"}), "no switch called"),
    ("no such position", lamp(rig={"key-switch": "LOCK"}), "no position"),
    ("a rig that is no table", lamp(rig="ON"), "rig is not a table"),
]


@pytest.mark.parametrize(
    ("given", "says"), [row[1:] for row in REFUSED], ids=[row[0] for row in REFUSED]
)
def test_a_finding_that_cannot_have_been_taken_is_refused_and_changes_nothing(
    given: dict[str, object], says: str
) -> None:
    case = Case(bike())
    case.add(eye(rig=HORN))
    before: tuple[Any, ...] = (case.faults(), case.segments(), list(case.findings))
    with pytest.raises(HarnessError) as caught:
        case.add(given)
    (problem,) = caught.value.problems
    assert says in f"{problem.what}; {problem.mend}"
    assert problem.where.startswith("f2")
    assert problem.mend
    assert (case.faults(), case.segments(), list(case.findings)) == before


def test_a_bolted_joint_of_metal_cannot_be_clamped() -> None:
    mount = Wire(id="stand", start="frame.a", end="engine.a", kind="mount")
    loom = with_wire(bike(), mount)
    with pytest.raises(HarnessError, match="no wire to clamp"):
        finding_from(loom, clamp(wire="stand"), id_="f1")


def with_wire(h: Harness, more: Wire) -> Harness:
    engine = Device(id="engine", spec=Body(), place=None)
    return Harness.build(
        title=h.title,
        volts=h.volts,
        earth=h.earth,
        places=h.places.values(),
        devices=[*h.devices.values(), engine],
        wires=[*h.wires.values(), more],
    )


def test_the_id_of_another_finding_is_refused() -> None:
    case = Case(bike())
    case.add(lamp(id="first"))
    with pytest.raises(HarnessError, match="there already"):
        case.add(meter(id="first"))
    assert [finding.id for finding in case.findings] == ["first"]


def test_several_faults_in_a_rig_come_together() -> None:
    with pytest.raises(HarnessError) as caught:
        finding_from(bike(), lamp(rig={"a": "ON", "key-switch": "UP"}), id_="f1")
    assert len(caught.value.problems) == 2
