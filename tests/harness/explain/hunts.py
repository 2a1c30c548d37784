"""Explanations of the bench example's verdicts."""

from typing import Any

from tests.harness.conflict.cases import TAIL, Given, case_of
from tests.harness.small_looms import BRAKE, DEAD_HORN, HIGH_RETURN, HORN

WORKS: Given = {**TAIL, "reads": "works"}
LIT_AT_HORN: Given = {
    "rig": HORN,
    "tool": "test-lamp",
    "probe": "horn.1",
    "reads": "lit",
}
WEAK: Given = {**DEAD_HORN, "reads": "weak"}
DROP: Given = {
    "rig": HORN,
    "tool": "voltmeter",
    "probe": "horn-button.1",
    "clip": "horn-button.2",
}
STOP: Given = {"rig": BRAKE, "tool": "eye", "device": "rear-lamp.stop"}
PAIR = (DEAD_HORN, {**TAIL, "reads": "dead"}, {**STOP, "reads": "works"}, HIGH_RETURN)


def explained(segment: str, *findings: Given) -> dict[str, Any]:
    return case_of(*findings).explain(segment)


def sentences(segment: str, *findings: Given) -> list[str]:
    return [step["sentence"] for step in explained(segment, *findings)["steps"]]


def spoken(segment: str, *findings: Given) -> str:
    return " ".join(sentences(segment, *findings))
