"""What each reading of a test would mean, its words or the bands of its meter."""

from typing import Any

import numpy as np
import pytest

from harness.circuit import FloatArray
from harness.explain.outcomes import LEAST_LIKELY, outcomes
from harness.findings import finding_from
from tests.harness.conflict.cases import Given, bike
from tests.harness.small_looms import HORN, LEAD_OFF

WEIGHT = np.array([0.2, 0.5, 0.3])
AT_RETURN: Given = {"rig": HORN, "probe": "horn.2"}
READS = {
    "voltmeter": 1.0,
    "ohmmeter": 1.0,
    "ammeter": 1.0,
    "eye": "works",
    "test-lamp": "lit",
}


def shares(joint: FloatArray) -> str:
    """Return how an outcome divides between the three hypotheses."""
    return " ".join(f"{p:.2f}" for p in joint / joint.sum())


def outcomes_of(
    given: Given, shown: list[float], groups: list[int]
) -> list[dict[str, Any]]:
    fuse = given.get("device") == "main-fuse"
    reads = "intact" if fuse else READS[str(given["tool"])]
    test = finding_from(bike(), {**given, "reads": reads}, id_="x").test
    seen = np.array(shown), np.array(groups)
    return outcomes(bike(), test, seen, WEIGHT, shares)


def test_a_meter_s_outcomes_are_bands_that_meet_at_round_figures() -> None:
    volts = {**AT_RETURN, "tool": "voltmeter"}
    found = outcomes_of(volts, [0.05, 12.4, 4.7], [0, 2, 1])
    assert [o["reads"] for o in found] == [
        {"from_v": None, "to_v": 2.0},
        {"from_v": 2.0, "to_v": 9.0},
        {"from_v": 9.0, "to_v": None},
    ]
    assert [o["example"] for o in found] == ["0.05", "4.7", "12.4"]
    assert [o["probability"] for o in found] == pytest.approx([0.2, 0.3, 0.5])
    assert [o["means"] for o in found] == [
        "1.00 0.00 0.00",
        "0.00 0.00 1.00",
        "0.00 1.00 0.00",
    ]


def test_an_ohmmeter_s_last_band_may_be_open() -> None:
    ohms: Given = {
        "rig": LEAD_OFF,
        "tool": "ohmmeter",
        "probe": "horn.2",
        "clip": "frame.horn",
    }
    found = outcomes_of(ohms, [0.01, np.inf, 3.0], [0, 2, 1])
    assert found[-1]["example"] == "open"
    assert found[-1]["reads"]["to_ohm"] is None
    assert found[-1]["reads"]["from_ohm"] >= 30
    assert found[0]["reads"]["from_ohm"] is None


def test_a_word_s_outcomes_come_with_their_chances() -> None:
    lamp = {**AT_RETURN, "tool": "test-lamp"}
    found = outcomes_of(lamp, [0.05, 12.0, 4.7], [0, 2, 1])
    assert [o["reads"] for o in found] == ["lit", "dim", "dark"]
    assert [o["probability"] for o in found] == pytest.approx([0.5, 0.3, 0.2], abs=0.01)
    assert found[0]["means"] == "0.00 1.00 0.00"


def test_an_outcome_that_hardly_happens_is_left_out() -> None:
    lamp = {**AT_RETURN, "tool": "test-lamp"}
    found = outcomes_of(lamp, [0.05, 12.0, 12.0], [0, 1, 1])
    assert [o["reads"] for o in found] == ["lit", "dark"]
    assert all(o["probability"] >= LEAST_LIKELY for o in found)


def test_a_fuse_reads_intact_or_blown() -> None:
    look: Given = {"tool": "eye", "device": "main-fuse"}
    found = outcomes_of(look, [0.0, 1.0, 0.0], [0, 1, 0])
    assert [o["reads"] for o in found] == ["intact", "blown"]


def test_a_clamp_s_outcomes_are_bands_of_amperes() -> None:
    clamp: Given = {"rig": HORN, "tool": "ammeter", "wire": "5"}
    found = outcomes_of(clamp, [2.4, 0.0, 1.4], [2, 0, 1])
    assert [o["reads"] for o in found] == [
        {"from_a": None, "to_a": 0.7},
        {"from_a": 0.7, "to_a": 2.0},
        {"from_a": 2.0, "to_a": None},
    ]
