"""Belief and advice in plain sentences."""

from functools import cache
from typing import Any

import numpy as np
import pytest

from harness.advice import Ranked
from harness.case import Case
from harness.conflict import Conflict
from harness.explain import advice_data, conflict_words, segment_sentence
from harness.findings import Finding, finding_from
from harness.model import Harness
from harness.segments import Fault
from harness.verdicts import Judged
from tests.harness.hunting import as_test
from tests.harness.small_looms import HORN, LEAD_OFF, ON, horn_and_tail

HEALTHY = ()
OPEN = (Fault("wire:5", "open"),)
BAD = (Fault("wire:5", "resistive", 3.0),)


@cache
def bike() -> Harness:
    return horn_and_tail()


def ranked(given: dict[str, object], shown: list[float], groups: list[int]) -> Ranked:
    words: dict[str, object] = {"voltmeter": 1.0, "ohmmeter": 1.0, "ammeter": 1.0}
    words |= {"eye": "works", "test-lamp": "lit"}
    reads = (
        "intact" if given.get("device") == "main-fuse" else words[str(given["tool"])]
    )
    test = finding_from(bike(), given | {"reads": reads}, id_="x").test
    return Ranked(test, 1.0, 1.5, np.array(groups), np.array(shown))


def outcomes(
    given: dict[str, object], shown: list[float], groups: list[int]
) -> list[dict[str, Any]]:
    weight = np.array([0.2, 0.5, 0.3])
    found = advice_data(
        bike(), ranked(given, shown, groups), [HEALTHY, OPEN, BAD], weight
    )
    return list(found["outcomes"])


AT_RETURN: dict[str, object] = {"rig": HORN, "probe": "horn.2"}


def test_a_meter_s_outcomes_are_bands_that_meet_at_round_figures() -> None:
    volts = AT_RETURN | {"tool": "voltmeter"}
    found = outcomes(volts, [0.05, 12.4, 4.7], [0, 2, 1])
    assert [o["reads"] for o in found] == [
        {"from_v": None, "to_v": 2.0},
        {"from_v": 2.0, "to_v": 9.0},
        {"from_v": 9.0, "to_v": None},
    ]
    assert [o["example"] for o in found] == ["0.05", "4.7", "12.4"]
    assert [o["probability"] for o in found] == pytest.approx([0.2, 0.3, 0.5])
    assert found[0]["means"] == "Nothing is wrong (100%)."
    assert "makes bad contact (100%)" in found[1]["means"]
    assert "is open (100%)" in found[2]["means"]


def test_an_ohmmeter_s_last_band_may_be_open() -> None:
    ohms: dict[str, object] = {
        "rig": LEAD_OFF,
        "tool": "ohmmeter",
        "probe": "horn.2",
        "clip": "frame.horn",
    }
    found = outcomes(ohms, [0.01, np.inf, 3.0], [0, 2, 1])
    assert found[-1]["example"] == "open"
    assert found[-1]["reads"]["to_ohm"] is None
    assert found[-1]["reads"]["from_ohm"] >= 30
    assert found[0]["reads"]["from_ohm"] is None


def test_a_word_s_outcomes_come_with_their_chances() -> None:
    lamp = AT_RETURN | {"tool": "test-lamp"}
    found = outcomes(lamp, [0.05, 12.0, 4.7], [0, 2, 1])
    assert [o["reads"] for o in found] == ["lit", "dim", "dark"]
    assert [o["probability"] for o in found] == pytest.approx([0.5, 0.3, 0.2], abs=0.01)
    assert "is open" in found[0]["means"]


def test_an_outcome_that_hardly_happens_is_left_out() -> None:
    lamp = AT_RETURN | {"tool": "test-lamp"}
    found = outcomes(lamp, [0.05, 12.0, 12.0], [0, 1, 1])
    assert [o["reads"] for o in found] == ["lit", "dark"]


def test_a_fuse_reads_intact_or_blown() -> None:
    look: dict[str, object] = {"tool": "eye", "device": "main-fuse"}
    found = outcomes(look, [0.0, 1.0, 0.0], [0, 1, 0])
    assert [o["reads"] for o in found] == ["intact", "blown"]


def test_no_more_than_three_suspects_are_named() -> None:
    case = Case(bike())
    for advice in case.advise(limit=10):
        for outcome in advice["outcomes"]:
            assert outcome["means"].count("%)") <= 3


def sentence(judged: Judged, *given: dict[str, object]) -> str:
    findings = {
        f"f{k}": finding_from(bike(), g, id_=f"f{k}") for k, g in enumerate(given, 1)
    }
    return segment_sentence(bike(), judged, findings)


DEAD: dict[str, object] = {
    "rig": HORN,
    "tool": "eye",
    "device": "horn",
    "reads": "dead",
}


def test_why_a_segment_has_its_verdict() -> None:
    def judged(verdict: Any, p: float, amps: float | None = None) -> Judged:
        proof = () if verdict == "untested" else ("f1",)
        return Judged("wire:5", "return", verdict, p, proof, amps)

    head = "Wire 5 (black, BK) from horn, pin 2 to frame (bare metal, horn)"
    why = "f1 (horn by eye, horn button held at PRESSED, key switch to ON: dead)"
    said = sentence(judged("untested", 0.01), DEAD)
    assert said == f"{head} has not been put to the test."
    said = sentence(judged("suspect", 0.31), DEAD)
    assert said == f"{head} is suspect with 31% likelihood, because of {why}."
    said = sentence(judged("faulty", 0.97), DEAD)
    assert said == f"{head} is faulty with 97% likelihood, shown by {why}."
    said = sentence(judged("sound", 0.0, 0.262), DEAD)
    assert said.endswith("would have read otherwise; proven at 0.26 A, not for more.")
    said = sentence(judged("sound", 0.0), DEAD)
    assert said.endswith("would have read otherwise.")


def test_a_proof_says_for_which_current_and_what_drew_it() -> None:
    def said(given: dict[str, object], amps: float) -> str:
        judged = Judged("wire:4", "switched feed", "sound", 0.0, ("f1",), amps)
        return sentence(judged, given).rpartition("; ")[2]

    lamp: dict[str, object] = {"tool": "test-lamp", "probe": "horn.1", "rig": HORN}
    # Contract section 3: 3 W at nominal volts, so a quarter of an ampere at 12 V.
    quarter = "proven for a quarter of an ampere, what a test lamp draws, not for more."
    assert said(lamp | {"reads": "lit"}, 0.262) == quarter
    # A lamp that glows dimly has passed less than that, and says so.
    assert said(lamp | {"reads": "dim"}, 0.12) == "proven at 0.12 A, not for more."
    # With the horn drawing as well, the wire carried more than the lamp's current.
    assert said(lamp | {"reads": "lit"}, 2.7) == "proven at 2.7 A, not for more."
    volts: dict[str, object] = {"tool": "voltmeter", "probe": "horn.1", "rig": HORN}
    drop = "proven at the 2.4 A that flowed meanwhile, not for more."
    assert said(volts | {"reads": 12.1}, 2.41) == drop
    path = "that proves a path at a meter's trickle, and no load."
    assert said(volts | {"reads": 12.1}, 1.3e-6) == path
    clamp: dict[str, object] = {"tool": "ammeter", "wire": "4", "rig": HORN}
    assert said(clamp | {"reads": 2.4}, 2.41) == "proven at 2.4 A, not for more."


def test_a_clamp_s_outcomes_are_bands_of_amperes() -> None:
    clamp: dict[str, object] = {"rig": HORN, "tool": "ammeter", "wire": "5"}
    found = outcomes(clamp, [2.4, 0.0, 1.4], [2, 0, 1])
    assert [o["reads"] for o in found] == [
        {"from_a": None, "to_a": 0.7},
        {"from_a": 0.7, "to_a": 2.0},
        {"from_a": 2.0, "to_a": None},
    ]


def test_a_long_proof_is_cut_short_in_words() -> None:
    judged = Judged("wire:5", "return", "faulty", 0.99, ("f1", "f2", "f3", "f4"), None)
    said = sentence(judged, DEAD, DEAD, DEAD, DEAD)
    assert "f1 (" in said
    assert "f2 (" in said
    assert "f3" not in said
    assert "and 2 more" in said


def test_a_conflict_says_what_to_doubt_and_what_else_it_may_be() -> None:
    findings: list[Finding] = [
        finding_from(bike(), DEAD, id_="f1"),
        finding_from(bike(), DEAD | {"rig": HORN, "reads": "works"}, id_="f2"),
    ]
    one = conflict_words(bike(), Conflict((("f2",),)), findings)
    assert "Doubt f2 (horn by eye" in one
    assert "or else" not in one
    two = conflict_words(bike(), Conflict((("f2",), ("f1",))), findings)
    assert "or else f1 (horn by eye" in two
    assert two.endswith("there is more than one fault, or the loom differs.")


def test_what_a_reading_means_agrees_with_what_it_then_leaves() -> None:
    case = Case(bike())
    case.add(DEAD)
    case.add({"rig": ON, "tool": "eye", "device": "rear-lamp.tail", "reads": "works"})
    best = case.advise(limit=1)[0]
    for outcome in best["outcomes"]:
        after = Case(bike())
        for finding in (DEAD, {"rig": ON, "tool": "eye", "device": "rear-lamp.tail"}):
            after.add({"reads": "works", **finding})
        after.add(as_test(best) | {"reads": outcome["example"]})
        words = after.faults(limit=1)[0]["words"].split(" (about")[0]
        assert words.lower() in outcome["means"].lower()
