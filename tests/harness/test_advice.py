"""What is advised next: bits a minute, never twice, never what must not be done."""

import json
import os
import subprocess
import sys
from functools import cache
from math import log2
from typing import Any

import pytest

from harness import findings
from harness.advice import LEAST_BITS, rigs_considered
from harness.case import Case
from harness.faults import Fault
from harness.findings import finding_from
from harness.kinds import Fuse
from harness.lookahead import FIRST, SECOND
from harness.minutes import EVERY_TEST_MINUTES, TOOL_MINUTES
from harness.model import Harness
from harness.suspects import ISOLATED
from tests.harness.hunting import Hunted, as_test, hunt
from tests.harness.library import FOLDER, LOOMS, loom
from tests.harness.small_looms import (
    DEAD_HORN,
    horn_and_tail,
    relay_and_charger,
)

ROOT = FOLDER.parents[1]

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
        assert a["minutes"] >= EVERY_TEST_MINUTES + min(TOOL_MINUTES.values())
    worth = [a["bits"] / a["minutes"] for a in advice]
    # The first few go by the minutes of the whole hunt: none is far worse by itself.
    assert worth[0] >= 0.8 * max(worth)
    assert worth[FIRST:SECOND] == sorted(worth[FIRST:SECOND], reverse=True)
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
