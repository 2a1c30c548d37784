"""Findings that cannot all be true of the drawing: what to doubt, what settles it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import harness
from diagnostics.convert import sequence_of
from diagnostics.selectors.advice import AdvisedTest, advised_test
from diagnostics.selectors.segments import percent_words
from diagnostics.words import capital, told_plainly

NUMBER = 90


@dataclass(frozen=True, kw_only=True)
class DoubtView:
    """One thing to doubt: findings misread, a wire not as drawn, or several faults.

    `kind` is `finding`, `drawing` or `faults`.
    """

    kind: str
    words: str
    percent: str
    findings: tuple[int, ...]
    segments: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class ConflictView:
    """What to doubt, the likeliest first, and the test that settles it.

    `another_hand` says that the test was taken before, and should be taken by
    somebody else or with another tool.
    """

    findings: tuple[int, ...]
    words: str
    doubts: tuple[DoubtView, ...]
    test: AdvisedTest | None
    another_hand: bool


def conflict_view(
    h: harness.Harness, said: Mapping[str, Any] | None
) -> ConflictView | None:
    """Return a stored conflict in words."""
    if said is None:
        return None
    test = said.get("test")
    return ConflictView(
        findings=_numbers(said),
        words=told_plainly(capital(said["words"])),
        doubts=tuple(_doubt(doubt) for doubt in said.get("doubts", ())),
        test=advised_test(h, test, number=NUMBER, tag="settle") if test else None,
        another_hand=test is not None and test["by"] != "anyone",
    )


def _doubt(said: Mapping[str, Any]) -> DoubtView:
    return DoubtView(
        kind=said["kind"],
        words=told_plainly(said["words"]),
        percent=percent_words(said["probability"]),
        findings=_numbers(said),
        segments=tuple(said["segments"]),
    )


def _numbers(said: Mapping[str, Any]) -> tuple[int, ...]:
    return tuple(sequence_of(name) for name in said["findings"])
