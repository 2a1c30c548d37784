"""Why a segment has its verdict, in one sentence."""

from typing import Any

import pytest

from harness.explain.proofs import (
    TRICKLE_A,
    lamp_amps_words,
    lamp_drew,
    segment_sentence,
)
from harness.findings import finding_from
from harness.verdicts import Judged
from tests.harness.conflict.cases import Given, bike
from tests.harness.small_looms import DEAD_HORN, HORN


def sentence(judged: Judged, *given: Given) -> str:
    findings = {
        f"f{k}": finding_from(bike(), g, id_=f"f{k}") for k, g in enumerate(given, 1)
    }
    return segment_sentence(bike(), judged, findings)


def test_why_a_segment_has_its_verdict() -> None:
    def judged(verdict: Any, p: float, amps: float | None = None) -> Judged:
        proof = () if verdict == "untested" else ("f1",)
        return Judged("wire:5", "return", verdict, p, proof, amps)

    head = "Wire 5 (black, BK) from horn, pin 2 to frame (bare metal, horn)"
    why = "f1 (horn by eye, horn button held at PRESSED, key switch to ON: dead)"
    said = sentence(judged("untested", 0.01), DEAD_HORN)
    assert said == f"{head} has not been put to the test."
    said = sentence(judged("suspect", 0.31), DEAD_HORN)
    assert said == f"{head} is suspect with 31% likelihood, because of {why}."
    said = sentence(judged("faulty", 0.97), DEAD_HORN)
    assert said == f"{head} is faulty with 97% likelihood, shown by {why}."
    said = sentence(judged("sound", 0.0, 0.262), DEAD_HORN)
    assert said.endswith("would have read otherwise; proven at 0.26 A, not for more.")
    said = sentence(judged("sound", 0.0), DEAD_HORN)
    assert said.endswith("would have read otherwise.")


def test_a_proof_says_for_which_current_and_what_drew_it() -> None:
    def said(given: Given, amps: float) -> str:
        judged = Judged("wire:4", "switched feed", "sound", 0.0, ("f1",), amps)
        return sentence(judged, given).rpartition("; ")[2]

    lamp: Given = {"tool": "test-lamp", "probe": "horn.1", "rig": HORN}
    # Contract section 3: 3 W at nominal volts, so a quarter of an ampere at 12 V.
    quarter = "proven for a quarter of an ampere, what a test lamp draws, not for more."
    assert said({**lamp, "reads": "lit"}, 0.262) == quarter
    # A lamp that glows dimly has passed less than that, and says so.
    assert said({**lamp, "reads": "dim"}, 0.12) == "proven at 0.12 A, not for more."
    # With the horn drawing as well, the wire carried more than the lamp's current.
    assert said({**lamp, "reads": "lit"}, 2.7) == "proven at 2.7 A, not for more."
    volts: Given = {"tool": "voltmeter", "probe": "horn.1", "rig": HORN}
    drop = "proven at the 2.4 A that flowed meanwhile, not for more."
    assert said({**volts, "reads": 12.1}, 2.41) == drop
    path = "that proves a path at a meter's trickle, and no load."
    assert said({**volts, "reads": 12.1}, 1.3e-6) == path
    clamp: Given = {"tool": "ammeter", "wire": "4", "rig": HORN}
    assert said({**clamp, "reads": 2.4}, 2.41) == "proven at 2.4 A, not for more."


def test_a_long_proof_is_cut_short_in_words() -> None:
    judged = Judged("wire:5", "return", "faulty", 0.99, ("f1", "f2", "f3", "f4"), None)
    said = sentence(judged, DEAD_HORN, DEAD_HORN, DEAD_HORN, DEAD_HORN)
    assert "f1 (" in said
    assert "f2 (" in said
    assert "f3" not in said
    assert "and 2 more" in said


@pytest.mark.parametrize(
    ("amps", "words"),
    [
        (0.125, "an eighth of an ampere"),
        (0.25, "a quarter of an ampere"),
        (0.5, "half an ampere"),
        (0.27, "0.27 A"),
    ],
)
def test_a_test_lamp_s_current_as_it_is_spoken_of(amps: float, words: str) -> None:
    # 3 W at 24, 12 and 6 V.
    assert lamp_amps_words(amps) == words


def test_a_lit_lamp_s_own_current_is_known_by_its_size() -> None:
    # 3 W at 12 V: 0.25 A.
    assert lamp_drew(bike(), 0.262)
    assert not lamp_drew(bike(), 2.7)
    assert not lamp_drew(bike(), TRICKLE_A)
