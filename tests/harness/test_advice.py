"""What is advised next: bits a minute, never twice, never what must not be done."""

import json
import os
import subprocess
import sys
from dataclasses import replace
from functools import cache
from math import log2
from typing import Any

import pytest

from harness import findings
from harness.advice import (
    CONSIDERED,
    ENGINE_MINUTES,
    ISOLATED,
    LEAD_MINUTES,
    LEAST_BITS,
    SWITCH_MINUTES,
    TOOL_MINUTES,
    Surroundings,
    considered,
    minutes_for,
    places_of,
    rigs_considered,
    surroundings,
)
from harness.case import Case
from harness.faults import Fault
from harness.findings import Test, finding_from
from harness.kinds import Fuse
from harness.model import Harness
from harness.rig import rig_from
from tests.harness.hunting import Hunted, as_test, hunt
from tests.harness.library import FOLDER, LOOMS, Rig, loom
from tests.harness.small_looms import (
    BRAKE,
    HORN,
    LEAD_OFF,
    ON,
    horn_and_tail,
    in_order,
    relay_and_charger,
)

ROOT = FOLDER.parents[1]

DEAD_HORN = {"rig": HORN, "tool": "eye", "device": "horn", "reads": "dead"}
TAIL_WORKS = {"rig": ON, "tool": "eye", "device": "rear-lamp.tail", "reads": "works"}
FAULTS = (
    Fault("wire:5", "open"),
    Fault("switch:horn-button.PRESSED.1-2", "resistive", 30.0),
    Fault("plug:tail-plug.3", "open"),
    Fault("wire:6", "earthed"),
    Fault("battery:battery", "weak", 0.6),
)


@cache
def bike() -> Harness:
    return horn_and_tail()


@cache
def hunted(fault: Fault) -> Hunted:
    return hunt(bike(), fault)


@cache
def all_advice() -> list[dict[str, Any]]:
    """Return everything advised from the start and after a dead horn."""
    cases = [
        Case(bike()),
        Case(bike()),
        Case(loom(LOOMS[1])),
        Case(relay_and_charger()),
    ]
    cases[1].add(DEAD_HORN)
    return [advice for case in cases for advice in case.advise(limit=200)]


@pytest.mark.parametrize("fault", FAULTS, ids=str)
def test_following_the_advice_finds_the_fault(fault: Fault) -> None:
    found = hunted(fault)
    assert fault.segment in found.suspects
    assert found.tests <= 12
    assert found.case.conflict() is None


@pytest.mark.parametrize("fault", FAULTS, ids=str)
def test_no_test_is_advised_that_has_been_taken(fault: Fault) -> None:
    tests = [findings.test_from(bike(), t, where="t") for t in hunted(fault).taken]
    assert len(set(tests)) == len(tests)
    case = Case(bike())
    for asked in hunted(fault).taken[:-1]:
        case.add(asked | {"reads": _some_reading(asked)})
        taken = {finding.test for finding in case.findings}
        advised = {
            findings.test_from(bike(), as_test(a), where="a") for a in case.advise(200)
        }
        assert not advised & taken


def _some_reading(asked: dict[str, Any]) -> object:
    words = {"test-lamp": "dark", "ohmmeter": "open", "voltmeter": 0.0, "eye": "dead"}
    seen_fuse = asked.get("device") == "main-fuse"
    return "blown" if seen_fuse else words[asked["tool"]]


def test_an_ohmmeter_is_advised_only_with_the_battery_lead_off() -> None:
    advice = all_advice()
    assert any(a["tool"] == "ohmmeter" for a in advice)
    for a in advice:
        assert (a["tool"] == "ohmmeter") == (a["rig"].get("battery-lead") == "off")


def test_everything_advised_can_be_taken_as_a_finding() -> None:
    case = Case(bike())
    case.add(DEAD_HORN)
    for a in case.advise(limit=200):
        for outcome in a["outcomes"]:
            asked = as_test(a) | {"reads": outcome["example"]}
            finding = finding_from(bike(), asked, id_="x")
            assert finding.reads == outcome["example"]


def test_bits_are_what_the_outcomes_can_tell_and_the_best_comes_first() -> None:
    case = Case(bike())
    case.add(DEAD_HORN)
    advice = case.advise(limit=200)
    assert len(advice) > 20
    for a in advice:
        assert LEAST_BITS <= a["bits"] <= log2(max(2, len(a["outcomes"]) + 2))
        assert a["minutes"] >= min(TOOL_MINUTES.values())
    worth = [a["bits"] / a["minutes"] for a in advice]
    assert worth == sorted(worth, reverse=True)
    assert case.advise(limit=3) == advice[:3]


def test_the_outcomes_of_a_test_are_as_likely_as_can_be_together() -> None:
    # Outcomes under 0.4 % are left out of the list.
    for a in all_advice():
        total = sum(outcome["probability"] for outcome in a["outcomes"])
        assert 0.985 <= total <= 1.0 + 1e-9, a
        assert len(a["outcomes"]) >= 2, "a test with one outcome tells nothing"


def test_nothing_is_advised_once_the_fault_is_isolated() -> None:
    case = hunted(FAULTS[0]).case
    found = case.isolated()
    assert found is not None
    assert found["probability"] >= ISOLATED
    assert case.advise(limit=50) == []
    started = Case(bike())
    assert started.isolated() is None
    assert started.advise(limit=1)


# ---- Cautions -------------------------------------------------------------------


def cautions_of(advice: list[dict[str, Any]], **which: object) -> list[str]:
    return [
        " ".join(a["cautions"])
        for a in advice
        if all(a.get(key) == value for key, value in which.items())
    ]


def test_lifting_the_battery_lead_comes_with_its_caution() -> None:
    # Z4, Z5 (common practice): the lead that goes to the frame, by polarity.
    for h, pole in ((loom(LOOMS[0]), "negative"), (loom(LOOMS[1]), "positive")):
        assert h.earth == pole
        found = cautions_of(Case(h).advise(limit=400), tool="ohmmeter")
        assert found
        for text in found:
            assert f"the {pole} one" in text
            assert "spring back" in text


def test_every_test_by_instrument_comes_with_a_caution() -> None:
    for a in all_advice():
        fuse = a["tool"] == "eye" and a["device"].endswith("fuse")
        if a["tool"] != "eye" or fuse:
            assert a["cautions"], a["words"]


def test_a_fuse_comes_with_the_caution_never_to_fit_a_larger_one() -> None:
    # Z6 (common practice).
    fuses = [d.id for d in bike().devices.values() if isinstance(d.spec, Fuse)]
    found = cautions_of(Case(bike()).advise(limit=400), device=fuses[0])
    assert found
    assert all("Never fit a larger fuse" in text for text in found)


def test_a_running_engine_comes_with_its_cautions() -> None:
    # Z7, Z10, Z11, Z13: high voltage, exhaust gas, hot parts, battery.
    running = [a for a in all_advice() if a["rig"].get("engine") == "running"]
    assert running
    for a in running:
        text = " ".join(a["cautions"])
        for word in ("exhaust", "high voltage", "hot parts", "battery off"):
            assert word in text


# ---- Minutes --------------------------------------------------------------------


def a_test(rig: Rig, tool: str, probe: str, clip: str = "frame.horn") -> Test:
    given = {"rig": rig, "tool": tool, "probe": probe, "clip": clip}
    return findings.test_from(bike(), given, where="t")


def at(rig: Rig, *places: str) -> Surroundings:
    return Surroundings(rig_from(bike(), rig), frozenset(places), frozenset())


def test_minutes_are_the_tool_the_switches_and_the_places_not_yet_open() -> None:
    # Our own judgement (common practice, no source).
    lamp, moves = TOOL_MINUTES["test-lamp"], SWITCH_MINUTES
    horn = a_test(HORN, "test-lamp", "horn.1")
    assert minutes_for(bike(), horn, at({})) == pytest.approx(lamp + 2 * moves)
    assert minutes_for(bike(), horn, at(HORN)) == pytest.approx(lamp)
    assert minutes_for(bike(), horn, at(BRAKE)) == pytest.approx(lamp + 2 * moves)
    tail = a_test({}, "test-lamp", "tail-plug.1b")
    assert minutes_for(bike(), tail, at({})) == pytest.approx(lamp + 3)
    assert minutes_for(bike(), tail, at({}, "tail")) == pytest.approx(lamp)


def test_a_place_is_paid_for_once_though_both_leads_are_there() -> None:
    both = a_test({}, "test-lamp", "tail-plug.1b", "rear-lamp.E")
    assert places_of(bike(), both) == {"tail"}
    minutes = minutes_for(bike(), both, at({}))
    assert minutes == pytest.approx(TOOL_MINUTES["test-lamp"] + 3)


def test_a_place_once_open_stays_open() -> None:
    case = Case(bike())
    case.add({"tool": "test-lamp", "probe": "tail-plug.1b", "reads": "dark"})
    case.add({"tool": "test-lamp", "probe": "horn.1", "reads": "dark"})
    around = surroundings(bike(), case.findings)
    assert around.open_places == {"tail"}
    again = a_test({}, "test-lamp", "tail-plug.2b")
    assert minutes_for(bike(), again, around) == TOOL_MINUTES["test-lamp"]


def test_the_lead_and_the_engine_cost_their_minutes_when_they_change() -> None:
    ohms = a_test(LEAD_OFF, "ohmmeter", "horn.1", "horn.2")
    base = TOOL_MINUTES["ohmmeter"]
    assert minutes_for(bike(), ohms, at({})) == pytest.approx(base + LEAD_MINUTES)
    assert minutes_for(bike(), ohms, at(LEAD_OFF)) == pytest.approx(base)
    volts = a_test({}, "voltmeter", "horn.1")
    back = TOOL_MINUTES["voltmeter"] + LEAD_MINUTES
    assert minutes_for(bike(), volts, at(LEAD_OFF)) == pytest.approx(back)
    running = a_test({"engine": "running"}, "voltmeter", "horn.1")
    start = TOOL_MINUTES["voltmeter"] + ENGINE_MINUTES
    assert minutes_for(bike(), running, at({})) == pytest.approx(start)


def test_looking_costs_no_access_but_a_fuse_must_be_got_at() -> None:
    lamp = Test(rig_from(bike(), ON), "eye", device="rear-lamp.tail")
    fuse = Test(rig_from(bike(), {}), "eye", device="main-fuse")
    assert places_of(bike(), lamp) == frozenset()
    assert places_of(bike(), fuse) == {"tray"}


def with_tail_minutes(minutes: float) -> Harness:
    """Return the bike with its tail lamp as hard to get at as given."""
    places = [
        replace(place, access_minutes=minutes) if place.id == "tail" else place
        for place in bike().places.values()
    ]
    return Harness.build(
        title="Horn and tail lamp",
        volts=bike().volts,
        earth=bike().earth,
        places=places,
        devices=in_order(bike()),
        wires=bike().wires.values(),
    )


@pytest.mark.parametrize(("minutes", "goes_there"), [(0.0, True), (60.0, False)])
def test_a_place_that_is_hard_to_get_at_is_left_for_later(
    minutes: float, goes_there: bool
) -> None:
    h = with_tail_minutes(minutes)
    case = Case(h)
    for rig, device, reads in (
        (ON, "rear-lamp.tail", "dead"),
        (BRAKE, "rear-lamp.stop", "works"),
        (HORN, "horn", "works"),
    ):
        case.add({"rig": rig, "tool": "eye", "device": device, "reads": reads})
    first = findings.test_from(h, as_test(case.advise(limit=1)[0]), where="t")
    assert ("tail" in places_of(h, first)) is goes_there


# ---- What is considered ---------------------------------------------------------


def test_what_is_nearly_ruled_out_is_not_told_apart() -> None:
    case = Case(bike())
    case.add(DEAD_HORN)
    rows, weight = considered(case.belief)
    assert float(weight.sum()) == pytest.approx(1.0)
    p = case.belief.probability
    assert float(p[rows].min()) > CONSIDERED * float(p.max())


def test_the_rigs_are_the_ordinary_ones_and_the_lead_off() -> None:
    *ordinary, last = rigs_considered(bike())
    assert last.battery_lead == "off"
    assert all(rig.battery_lead == "on" for rig in ordinary)
    assert len({*ordinary, last}) == len(ordinary) + 1


# ---- The same everywhere --------------------------------------------------------

_PROGRAM = """
import json
from tests.harness.small_looms import HORN, horn_and_tail
from harness.case import Case
case = Case(horn_and_tail())
case.add({"rig": HORN, "tool": "eye", "device": "horn", "reads": "dead"})
print(json.dumps([case.advise(limit=20), case.faults(), case.segments()]))
"""


def test_advice_is_the_same_whatever_the_seed_of_hashing() -> None:
    def run(seed: str) -> str:
        done = subprocess.run(
            [sys.executable, "-c", _PROGRAM],
            env=os.environ | {"PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT)},
            capture_output=True,
            text=True,
            check=True,
        )
        return done.stdout

    one, two = run("1"), run("2")
    assert one == two
    case = Case(bike())
    case.add(DEAD_HORN)
    assert json.loads(one)[0] == json.loads(json.dumps(case.advise(limit=20)))
