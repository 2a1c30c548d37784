"""Findings on the bench example, and bikes that are not as drawn."""

from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from typing import Any

from harness.case import Case
from harness.conflict.redrawing import Redrawn
from harness.findings import Finding, finding_from
from harness.model import Harness
from harness.weighing import Weighing
from tests.harness.small_looms import (
    HORN,
    LEAD_OFF,
    ON,
    horn_and_tail,
    in_order,
)

Given = Mapping[str, object]

TAIL: Given = {"rig": ON, "tool": "eye", "device": "rear-lamp.tail"}
LAMP: Given = {"rig": HORN, "tool": "test-lamp"}
DARK_BEFORE: Given = {**LAMP, "probe": "key-switch.15", "reads": "dark"}
LIT_BEHIND: Given = {**LAMP, "probe": "horn-button.2", "reads": "lit"}
LIVE_WITHOUT_BATTERY: Given = {
    "rig": LEAD_OFF,
    "tool": "test-lamp",
    "probe": "horn.1",
    "reads": "lit",
}


@cache
def bike() -> Harness:
    return horn_and_tail()


def case_of(*findings: Given, h: Harness | None = None) -> Case:
    case = Case(h or bike())
    for finding in findings:
        case.add(finding)
    return case


def weighed(*findings: Given, h: Harness | None = None) -> Weighing:
    """Return what findings come to, on the bench example unless told."""
    loom = h or bike()
    weighing = Weighing(loom)
    for number, finding in enumerate(findings, start=1):
        weighing.add(finding_from(loom, finding, id_=f"f{number}"))
    return weighing


def finding(given: Given, name: str = "f1", h: Harness | None = None) -> Finding:
    return finding_from(h or bike(), given, id_=name)


def rebuilt(h: Harness, redrawn: Redrawn) -> Harness:
    """Return the loom as a changed drawing would have it, built from scratch."""
    wires = dict(h.wires)
    for move in redrawn.moves:
        end: dict[str, Any] = {"start" if move.end == "from" else "end": move.terminal}
        wires[move.wire] = replace(wires[move.wire], **end)
    return Harness.build(
        title=h.title,
        volts=h.volts,
        earth=h.earth,
        places=h.places.values(),
        devices=in_order(h),
        wires=wires.values(),
    )
