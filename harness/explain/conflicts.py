"""A conflict as plain data and plain sentences: what to doubt, and what settles it."""

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from harness.advice import Ranked
from harness.circuit import FloatArray
from harness.conflict import Conflict, Move, Redrawn, Weighed, hypotheses
from harness.explain.advising import offered_data
from harness.explain.steps import capital, listed
from harness.findings import Finding
from harness.model import Harness
from harness.words import (
    device_words,
    finding_words,
    reading_words,
    set_words,
    terminal_words,
    test_words,
    wire_name,
)

# What an outcome leaves with less than this is not named.
WORTH_A_WORD = 0.05
LEAST_SHARE = 0.02


def conflict_data(
    h: Harness,
    found: Conflict,
    doubts: Sequence[Weighed],
    ranked: Ranked | None,
    findings: Sequence[Finding],
) -> dict[str, Any]:
    """Return a conflict as plain data.

    Parameters
    ----------
    h : Harness
    found : Conflict
    doubts : sequence of Weighed
        Likeliest first.
    ranked : Ranked or None
        The test that settles it, with the hypotheses of `settling.hypotheses`.
    findings : sequence of Finding
    """
    by_id = {finding.id: finding for finding in findings}
    return {
        "findings": list(found.sets[0]),
        "sets": [list(names) for names in found.sets],
        "doubts": [_doubt_data(h, weighed, by_id) for weighed in doubts],
        "test": _test_data(h, doubts, ranked, by_id),
        "words": _words(h, doubts, ranked, by_id),
    }


def _doubt_data(
    h: Harness, weighed: Weighed, by_id: Mapping[str, Finding]
) -> dict[str, Any]:
    redrawn, faults = weighed.supposed.redrawn, weighed.supposed.faults
    return {
        "kind": _kind(weighed),
        "findings": list(weighed.doubted),
        "segments": list(redrawn.segments),
        "changes": [_move_data(h, move) for move in redrawn.moves],
        "faults": [[fault.segment, fault.mode] for fault in faults],
        "probability": weighed.probability,
        "words": _sentence(doubt_words(h, weighed, by_id)),
    }


def _move_data(h: Harness, move: Move) -> dict[str, str]:
    wire = h.wires[move.wire]
    drawn = wire.start if move.end == "from" else wire.end
    return {
        "wire": move.wire,
        "end": move.end,
        "drawn": drawn,
        "instead": move.terminal,
    }


def _kind(weighed: Weighed) -> str:
    if weighed.supposed.redrawn.moves:
        return "drawing"
    return "finding" if weighed.doubted else "faults"


def doubt_words(h: Harness, weighed: Weighed, by_id: Mapping[str, Finding]) -> str:
    """Return a doubt in words, with the tests that were misread."""
    return _doubt_words(h, weighed, [said(h, by_id[name]) for name in weighed.doubted])


def _doubt_words(h: Harness, weighed: Weighed, named: Sequence[str]) -> str:
    """Return what was misread or is not as drawn, and what stands then."""
    redrawn, faults = weighed.supposed.redrawn, weighed.supposed.faults
    if redrawn.moves:
        stands = f"; beside that, {set_words(h, faults)}" if faults else ""
        look = f"; a look at the {_where(h, redrawn)} shows it"
        return f"the loom is not as drawn: {redrawn_words(h, redrawn)}{look}{stands}"
    if not named:
        return f"there are several faults at once: {set_words(h, faults)}"
    what = "findings" if len(named) > 1 else "finding"
    were = "were" if len(named) > 1 else "was"
    left = f"likeliest then: {set_words(h, faults)}"
    return f"{what} {listed(named)} {were} misread; {left}"


def said(h: Harness, finding: Finding) -> str:
    """Return a finding with its test and reading: ``f2 (horn by eye, ...: dead)``."""
    return f"{finding.id} ({finding_words(h, finding)}: {reading_words(finding)})"


def redrawn_words(h: Harness, redrawn: Redrawn) -> str:
    """Return how a loom would have to differ from its drawing."""
    moves = redrawn.moves
    if len(moves) == 1:
        return _on_pin(h, moves[0]) + f", not on {_drawn_at(h, moves[0])}"
    one, other = moves
    return f"two ends are swapped: {_on_pin(h, one)}, and {_on_pin(h, other)}"


def _where(h: Harness, redrawn: Redrawn) -> str:
    owners = dict.fromkeys(m.terminal.partition(".")[0] for m in redrawn.moves)
    return listed([device_words(h, owner) for owner in owners])


def _on_pin(h: Harness, move: Move) -> str:
    name = wire_name(h.wires[move.wire])
    return f"{name} sits on {terminal_words(h, move.terminal)}"


def _drawn_at(h: Harness, move: Move) -> str:
    wire = h.wires[move.wire]
    terminal = wire.start if move.end == "from" else wire.end
    return f"pin {terminal.partition('.')[2]}"


def _test_data(
    h: Harness,
    doubts: Sequence[Weighed],
    ranked: Ranked | None,
    by_id: Mapping[str, Finding],
) -> dict[str, Any] | None:
    if ranked is None:
        return None
    words = [_doubt_words(h, weighed, weighed.doubted) for weighed in doubts]
    _, labels, weight = hypotheses(doubts)
    # What the test is to tell is told of the unlikely doubt as well.
    share = [max(weighed.probability, LEAST_SHARE) for weighed in doubts]
    weight = weight * np.array(share)[labels] / sum(share)
    if len(doubts) == 1:
        labels, weight = np.arange(2, dtype=np.intp), np.array([0.5, 0.5])
        words.append(
            f"finding {doubts[0].doubted[0]} stands: more is wrong than was looked "
            "for, or the loom is not as drawn"
        )

    def means(joint: FloatArray) -> str:
        of_doubts: FloatArray = np.zeros(len(words))
        np.add.at(of_doubts, labels, joint)
        return _means(words, of_doubts)

    return {**offered_data(h, ranked, weight, means), "by": _by(ranked, by_id)}


def _by(ranked: Ranked, by_id: Mapping[str, Finding]) -> str:
    """Return who should take the test; the same hand may slip the same way again."""
    taken = any(finding.test == ranked.test for finding in by_id.values())
    return "another hand" if taken else "anyone"


def _means(words: Sequence[str], joint: FloatArray) -> str:
    share = joint / joint.sum()
    order = np.argsort(-share, kind="stable").tolist()
    named = [words[i] for i in order if share[i] >= WORTH_A_WORD]
    return _sentence("; or ".join(named))


def _words(
    h: Harness,
    doubts: Sequence[Weighed],
    ranked: Ranked | None,
    by_id: Mapping[str, Finding],
) -> str:
    words = [doubt_words(h, weighed, by_id) for weighed in doubts]
    text = "These findings cannot all be true of this drawing."
    if any(_kind(weighed) == "faults" for weighed in doubts):
        text = "With one fault these findings cannot all be true of this drawing."
    text += f" Likeliest: {words[0]}."
    if len(words) > 1:
        text += f" Or else: {words[1]}."
    if len(words) > 2:  # noqa: PLR2004 - two are told in full
        text += f" Less likely still: {_count(len(words) - 2)}."
    if ranked is None:
        return f"{text} Take the findings again, with another tool or by another hand."
    again = _by(ranked, by_id) == "another hand"
    whose = ", by another hand or with another meter" if again else ""
    return f"{text} What settles it{whose}: {test_words(h, ranked.test)}."


def _count(more: int) -> str:
    return "one more such doubt" if more == 1 else f"{more} more such doubts"


def _sentence(text: str) -> str:
    return f"{capital(text)}."
