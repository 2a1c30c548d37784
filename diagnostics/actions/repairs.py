"""What was done to the loom."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

import harness
from diagnostics.actions.beliefs import hold_belief
from diagnostics.actions.history import note_on_case
from diagnostics.actions.steps import (
    advance,
    case_row,
    demand_key,
    on_the_case_as_it_is,
)
from diagnostics.convert import LONGEST_NOTE
from diagnostics.engine import conclusions, loom_of
from diagnostics.lifecycle import CaseEvent, CaseState, next_state
from diagnostics.models import Repair
from shop.domain.refusals import Refusal
from shop.domain.roles import Act
from shop.models import User


@dataclass(frozen=True, kw_only=True)
class RepairEntry:
    """A repair as somebody enters it.

    `segments` are those put right, by name; `mode` is how they were bad; `parts`
    is free text (parts that cost something are booked on the work order).
    """

    done: str
    segments: Sequence[str] = ()
    mode: str = ""
    parts: str = ""


def record_repair(
    *, case_id: int, entry: RepairEntry, key: str, acting_user: User, at: datetime
) -> Repair:
    """Record a repair; the failed findings are then to be taken again as its proof.

    The loom is a new one from here on: belief starts afresh, and what was read
    before stays on record as the reason for the repair.

    Raises
    ------
    Refusal
        It does not say what was done, names a segment that the drawing does not
        have, or the case is finished.
    """
    acting_user.demand(Act.FIND_FAULTS)
    key = demand_key(key)

    def think() -> Callable[[], Repair]:
        case = case_row(case_id)
        already = Repair.objects.of_case(case_id).filter(key=key).first()
        if already is not None:
            return lambda: already
        state = next_state(CaseState(case.state), CaseEvent.RECORD_REPAIR)
        drawn = conclusions(loom_of(case.harness_file.sha256), standing=())[0]
        checked = _checked(entry, known=drawn.segments)

        def write() -> Repair:
            advance(case, repairs=1, to=state)
            repair = Repair.objects.create(
                case=case,
                sequence=case.repairs_made + 1,
                step=case.step + 1,
                key=key,
                done=checked.done,
                segments=list(checked.segments),
                mode=checked.mode,
                parts=checked.parts,
                done_by=acting_user,
                done_at=at,
            )
            hold_belief(
                case=case, step=repair.step, conclusion=drawn, cause=repair, at=at
            )
            note_on_case(
                case,
                verb="repair.recorded",
                summary=f"Repair recorded: {checked.done} ({case.title})",
                acting_user=acting_user,
                at=at,
                to=state,
            )
            return repair

        return write

    return on_the_case_as_it_is(think)


def _checked(entry: RepairEntry, *, known: dict[str, dict[str, object]]) -> RepairEntry:
    done = entry.done.strip()
    if not done:
        raise Refusal(
            "repair-empty",
            "Say what was done: what was bad, where, and how it was put right.",
            "done",
        )
    if len(entry.parts.strip()) > LONGEST_NOTE:
        raise Refusal(
            "parts-too-long", f"Keep it to {LONGEST_NOTE} characters.", "parts"
        )
    for segment in entry.segments:
        if segment not in known:
            raise Refusal(
                "segment-unknown",
                f"The drawing has no segment “{segment}”; choose from its list.",
                "segments",
            )
    if entry.mode and entry.mode not in harness.MODES:
        raise Refusal(
            "mode-unknown",
            f"“{entry.mode}” is no way to be bad; "
            f"choose one of {', '.join(harness.MODES)}.",
            "mode",
        )
    return replace(
        entry,
        done=done,
        segments=tuple(dict.fromkeys(entry.segments)),
        parts=entry.parts.strip(),
    )
