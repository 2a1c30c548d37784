"""The findings of a case in the order they were taken, voids beside them."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

import harness
from diagnostics.lifecycle import ORIGIN_LABELS, Origin
from diagnostics.models import Finding
from diagnostics.words import (
    TOOL_LABELS,
    capital,
    clamp_words,
    device_words,
    reading_words,
    spot_words,
    state_words,
)


@dataclass(frozen=True, kw_only=True)
class VoidView:
    """A finding withdrawn: why, by whom, when."""

    reason: str
    voided_by: str
    voided_at: datetime


@dataclass(frozen=True, kw_only=True)
class FindingView:
    """One finding in words, and as it was entered."""

    finding_id: int
    sequence: int
    step: int
    repairs_before: int
    origin: str
    origin_label: str
    tool: str
    tool_label: str
    where: str
    rig_words: str
    rig: dict[str, Any]
    probe: str
    clip: str
    device: str
    wire: str
    moving: bool
    reads: str
    reading: str
    note: str
    taken_by: str
    taken_at: datetime
    retest_of: int | None
    void: VoidView | None


def finding_views(*, case_id: int, h: harness.Harness) -> tuple[FindingView, ...]:
    """Return all findings of a case, those voided as well."""
    rows = Finding.objects.of_case(case_id).with_people()
    return tuple(finding_view(row, h) for row in rows)


def complaint_words(findings: Sequence[FindingView]) -> str:
    """Return a complaint in one line: what fails by name, what works by number."""
    said = [f for f in findings if f.origin == Origin.COMPLAINT and f.void is None]
    failing = [f"{f.where} {f.reads}" for f in said if f.reads != "works"]
    works = len(said) - len(failing)
    parts = [
        *failing,
        *([f"{works} {'works' if works == 1 else 'work'}"] if works else []),
    ]
    return ", ".join(parts)


def where_words(h: harness.Harness, finding: Finding) -> str:
    """Return where a finding was taken."""
    if finding.tool == "eye":
        return capital(device_words(h, finding.device))
    if finding.tool == "ammeter":
        return clamp_words(h, finding.wire)
    return (
        f"Probe on {spot_words(h, finding.probe)}, "
        f"clip on {spot_words(h, finding.clip)}"
    )


def finding_view(row: Finding, h: harness.Harness) -> FindingView:
    """Return one finding in words."""
    void = getattr(row, "void", None)
    return FindingView(
        finding_id=row.pk,
        sequence=row.sequence,
        step=row.step,
        repairs_before=row.repairs_before,
        origin=row.origin,
        origin_label=ORIGIN_LABELS[Origin(row.origin)],
        tool=row.tool,
        tool_label=TOOL_LABELS[row.tool],
        where=where_words(h, row),
        rig_words=state_words(h, row.rig, moving=row.moving),
        rig=row.rig,
        probe=row.probe,
        clip=row.clip,
        device=row.device,
        wire=row.wire,
        moving=row.moving,
        reads=row.reads,
        reading=reading_words(row.tool, row.reads),
        note=row.note,
        taken_by=row.taken_by.name,
        taken_at=row.taken_at,
        retest_of=row.retest_of.sequence if row.retest_of else None,
        void=VoidView(
            reason=void.reason,
            voided_by=void.voided_by.name,
            voided_at=void.voided_at,
        )
        if void
        else None,
    )
