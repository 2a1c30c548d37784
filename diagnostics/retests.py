"""The proof of a repair: which tests are to be taken again, and how they came out.

What failed before the repair must read as a healthy loom would. The same test taken
twice before the repair is one item of the proof.
"""

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

from diagnostics.convert import Where
from shop.domain.refusals import IllegalMove


class Taken(Where, Protocol):
    """What the proof needs to know of a finding; a row has all of it."""

    @property
    def pk(self) -> int:
        """Which row."""

    @property
    def sequence(self) -> int:
        """Its number in the case."""

    @property
    def rig(self) -> dict[str, Any]:
        """The positions of the switches."""

    @property
    def moving(self) -> bool:
        """Whether the loom was being moved meanwhile."""

    @property
    def reads(self) -> str:
        """What was read."""

    @property
    def repairs_before(self) -> int:
        """How many repairs the loom had had."""


@dataclass(frozen=True, kw_only=True)
class Healthy:
    """What a healthy loom would read, in words, and whether a reading fits that."""

    words: str
    fits: bool


@dataclass(frozen=True, kw_only=True)
class Retest:
    """One failed test and, where it was taken again, how that came out."""

    finding_id: int
    sequence: int
    healthy: str
    again: int | None = None
    again_reads: str | None = None
    good: bool | None = None


Judge = Callable[[Taken], Healthy]


def retests(
    findings: Sequence[Taken], *, repairs_made: int, judge: Judge
) -> tuple[Retest, ...]:
    """Return the proof wanted after the latest repair, in the order of the tests.

    `findings` are those that count, voided ones left out.
    """
    failed: dict[str, tuple[Taken, Healthy]] = {}
    for finding in findings:
        if finding.repairs_before < repairs_made and _test(finding) not in failed:
            healthy = judge(finding)
            if not healthy.fits:
                failed[_test(finding)] = (finding, healthy)
    latest = {
        _test(finding): finding
        for finding in findings
        if finding.repairs_before == repairs_made
    }
    return tuple(
        _item(finding, healthy, latest.get(test), judge)
        for test, (finding, healthy) in failed.items()
    )


def demand_all_good(items: Sequence[Retest]) -> None:
    """Refuse to call a repair proven while a failed test is open or still bad.

    Raises
    ------
    IllegalMove
        Names the findings.
    """
    if not items:
        raise IllegalMove(
            "nothing-to-prove",
            "No finding of this case failed, so nothing can prove a repair. "
            "Reopen the case and take the complaint down first.",
        )
    bad = [item for item in items if item.good is False]
    if bad:
        raise IllegalMove(
            "retest-bad",
            f"The repair is not proven: {_numbers(bad)} still "
            f"{'reads' if len(bad) == 1 else 'read'} badly. Reopen the case and go on "
            "looking.",
        )
    pending = [item for item in items if item.good is None]
    if pending:
        raise IllegalMove(
            "retest-missing",
            f"The repair is not proven yet: take {_numbers(pending)} again.",
        )


def _item(
    finding: Taken, healthy: Healthy, again: Taken | None, judge: Judge
) -> Retest:
    return Retest(
        finding_id=finding.pk,
        sequence=finding.sequence,
        healthy=healthy.words,
        again=again.sequence if again else None,
        again_reads=again.reads if again else None,
        good=judge(again).fits if again else None,
    )


def _numbers(items: Sequence[Retest]) -> str:
    names = [str(item.sequence) for item in items]
    if len(names) == 1:
        return f"finding {names[0]}"
    return f"findings {', '.join(names[:-1])} and {names[-1]}"


def _test(finding: Taken) -> str:
    where = [finding.probe, finding.clip, finding.device, finding.wire]
    return json.dumps(
        [finding.tool, where, finding.rig, finding.moving], sort_keys=True
    )
