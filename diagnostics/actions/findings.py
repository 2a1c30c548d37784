"""Findings taken: at the complaint, on advice, freely, or again after a repair."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from diagnostics.actions.beliefs import hold_belief
from diagnostics.actions.history import note_on_case
from diagnostics.actions.steps import (
    advance,
    case_row,
    demand_key,
    on_the_case_as_it_is,
)
from diagnostics.convert import FindingEntry, entry_of, tidied
from diagnostics.engine import Conclusion, conclusions, loom_of
from diagnostics.lifecycle import CaseState, Origin, demand_taken
from diagnostics.models import Case, Finding
from shop.domain.refusals import NotFound, Refusal
from shop.domain.roles import Act
from shop.models import User


@dataclass(frozen=True, kw_only=True)
class _Taking:
    """Findings about to be written: what, why, by whom, under which keys."""

    entries: tuple[FindingEntry, ...]
    keys: tuple[str, ...]
    origin: Origin
    retest_of: Finding | None
    acting_user: User
    at: datetime


def record_finding(
    *,
    case_id: int,
    entry: FindingEntry,
    origin: Origin,
    key: str,
    acting_user: User,
    at: datetime,
) -> Finding:
    """Take one finding and draw the conclusion.

    The key names the tap: sent again, it gives back the finding that it made.

    Raises
    ------
    Refusal
        The finding is none that can have been taken, or the case takes none now.
    """
    if origin not in (Origin.ADVISED, Origin.FREE):
        raise Refusal(
            "origin-unknown",
            "A single finding is taken on advice or freely; "
            "complaints and retests have doors of their own.",
            "origin",
        )
    taking = _Taking(
        entries=(entry,),
        keys=(demand_key(key),),
        origin=origin,
        retest_of=None,
        acting_user=acting_user,
        at=at,
    )
    return _take(case_id, taking)[0]


def record_complaint(
    *,
    case_id: int,
    eyes: Sequence[FindingEntry],
    key: str,
    acting_user: User,
    at: datetime,
) -> list[Finding]:
    """Take the complaint: what works, is weak or dead, all in one go or not at all.

    Raises
    ------
    Refusal
        Nothing was said, or one of the entries cannot be.
    """
    demand_key(key)
    if not eyes:
        raise Refusal(
            "complaint-empty",
            "Nothing was tried yet. Say of one consumer at least whether it works, "
            "is weak or dead.",
            "eyes",
        )
    if any(eye.tool != "eye" for eye in eyes):
        raise Refusal(
            "complaint-not-by-eye",
            "A complaint is what can be seen or heard; enter a test as a finding.",
            "eyes",
        )
    taking = _Taking(
        entries=tuple(eyes),
        keys=tuple(f"{key}.{place}" for place in range(1, len(eyes) + 1)),
        origin=Origin.COMPLAINT,
        retest_of=None,
        acting_user=acting_user,
        at=at,
    )
    return _take(case_id, taking)


def record_retest(
    *,
    finding_id: int,
    reads: str,
    key: str,
    acting_user: User,
    at: datetime,
    note: str = "",
) -> Finding:
    """Take a failed finding again after the repair, in the same rig and places.

    Raises
    ------
    Refusal
        The finding was voided, or was itself taken on the repaired loom.
    """
    before = _finding(finding_id)
    if hasattr(before, "void"):
        raise Refusal("finding-voided", "A voided finding proves nothing.", None)
    taking = _Taking(
        entries=(replace(entry_of(before), reads=reads, note=note),),
        keys=(demand_key(key),),
        origin=Origin.RETEST,
        retest_of=before,
        acting_user=acting_user,
        at=at,
    )
    return _take(before.case_id, taking)[0]


def put_back_finding(
    *, finding_id: int, key: str, acting_user: User, at: datetime
) -> Finding:
    """Enter a voided finding once more, since the void was the mistake.

    Raises
    ------
    Refusal
        The finding was never voided, or the case takes no findings now.
    """
    before = _finding(finding_id)
    if not hasattr(before, "void"):
        raise Refusal("finding-stands", "This finding was not voided.", None)
    note = f"Put back finding {before.sequence}. {before.note}".strip()
    taking = _Taking(
        entries=(replace(entry_of(before), note=note[:400]),),
        keys=(demand_key(key),),
        origin=Origin(before.origin),
        retest_of=before.retest_of,
        acting_user=acting_user,
        at=at,
    )
    return _take(before.case_id, taking)[0]


def _take(case_id: int, taking: _Taking) -> list[Finding]:
    taking.acting_user.demand(Act.FIND_FAULTS)

    def think() -> Callable[[], list[Finding]]:
        case = case_row(case_id)
        h = loom_of(case.harness_file.sha256)
        entries = [tidied(entry, first_body=h.first_body) for entry in taking.entries]
        already = _already_taken(case, taking, entries)
        if already:
            return lambda: already
        demand_taken(CaseState(case.state), taking.origin)
        _demand_earlier_loom(case, taking.retest_of)
        numbered = list(enumerate(entries, start=case.findings_taken + 1))
        standing = Finding.objects.of_case(case_id).on_loom(case.repairs_made)
        drawn = conclusions(h, standing=list(standing.counted()), new=numbered)
        return lambda: _write(case, taking, numbered, drawn)

    return on_the_case_as_it_is(think)


def _write(
    case: Case,
    taking: _Taking,
    numbered: Sequence[tuple[int, FindingEntry]],
    drawn: Sequence[Conclusion],
) -> list[Finding]:
    advance(case, steps=len(numbered), findings=len(numbered))
    written = []
    for offset, (sequence, entry) in enumerate(numbered):
        step = case.step + offset + 1
        finding = Finding.objects.create(
            case=case,
            sequence=sequence,
            step=step,
            repairs_before=case.repairs_made,
            key=taking.keys[offset],
            rig=dict(entry.rig),
            tool=entry.tool,
            probe=entry.probe,
            clip=entry.clip,
            device=entry.device,
            wire=entry.wire,
            moving=entry.moving,
            reads=entry.reads,
            origin=taking.origin,
            note=entry.note.strip(),
            retest_of=taking.retest_of,
            taken_by=taking.acting_user,
            taken_at=taking.at,
        )
        hold_belief(
            case=case,
            step=step,
            conclusion=drawn[offset],
            cause=finding,
            at=taking.at,
        )
        written.append(finding)
    note_on_case(
        case,
        verb="finding.taken",
        summary=_summary(case, written),
        acting_user=taking.acting_user,
        at=taking.at,
    )
    return written


def _summary(case: Case, written: Sequence[Finding]) -> str:
    numbers = f"{written[0].sequence}"
    if len(written) > 1:
        numbers += f" to {written[-1].sequence}"
        return f"Findings {numbers} taken ({case.title})"
    return f"{written[0]} ({case.title})"


def _already_taken(
    case: Case, taking: _Taking, entries: Sequence[FindingEntry]
) -> list[Finding]:
    found = list(Finding.objects.of_case(case.pk).with_keys(taking.keys))
    if not found:
        return []
    if [_content(row) for row in found] != [_content(entry) for entry in entries]:
        raise Refusal(
            "key-used",
            "This entry was sent before with another reading, and was taken down "
            "then. Load the page again to see it.",
            "key",
        )
    return found


def _content(finding: Finding | FindingEntry) -> tuple[object, ...]:
    where = (finding.probe, finding.clip, finding.device, finding.wire)
    rig = dict(finding.rig)
    return (finding.tool, where, rig, finding.moving, finding.reads)


def _demand_earlier_loom(case: Case, before: Finding | None) -> None:
    if before is not None and before.repairs_before >= case.repairs_made:
        raise Refusal(
            "finding-not-before-the-repair",
            "This finding was taken after the repair; only earlier ones are its proof.",
            "finding_id",
        )


def _finding(finding_id: int) -> Finding:
    found = (
        Finding.objects.select_related("void", "retest_of")
        .filter(pk=finding_id)
        .first()
    )
    if found is None:
        raise NotFound("finding-not-found", "There is no such finding.", "finding_id")
    return found
