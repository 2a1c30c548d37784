"""The tests worth taking next, in words that a hand can follow."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import harness
from diagnostics.selectors.segments import percent_words
from diagnostics.words import (
    READING_LABELS,
    TOOL_LABELS,
    UNIT_SIGNS,
    TerminalView,
    WireView,
    capital,
    device_words,
    kind_of,
    rig_words,
    terminal_view,
    told_plainly,
    wire_view,
    word_choices,
)


@dataclass(frozen=True, kw_only=True)
class OutcomeView:
    """One way that a test can turn out, and what it would mean.

    `reads` is a word for lamp and eye; for a meter it is a band in `label`, and
    `example` a reading inside it.
    """

    reads: str
    label: str
    means: str
    percent: str
    example: str


@dataclass(frozen=True, kw_only=True)
class TestToTake:
    """One test: rig, tool, places, steps and cautions.

    `tag` tells it from the others of a page.
    """

    tag: str
    tool: str
    tool_label: str
    summary: str
    rig: dict[str, Any]
    rig_json: str
    rig_words: str
    probe: TerminalView | None
    clip: TerminalView | None
    device: str
    device_words: str
    wire: WireView | None
    moving: bool
    steps: tuple[str, ...]
    cautions: tuple[str, ...]
    words: tuple[tuple[str, str], ...]
    unit: str


@dataclass(frozen=True, kw_only=True)
class AdvisedTest(TestToTake):
    """A test worth taking: how it can turn out, and why it is worth it.

    `chained` are tests to take along with it, their steps and cautions those that its
    own do not say already; `then` is the test after its likeliest reading.
    """

    number: int
    outcomes: tuple[OutcomeView, ...]
    minutes: str
    bits: float
    reason: str
    chained: tuple[TestToTake, ...]
    then: str


def advised_tests(
    *, h: harness.Harness, advice: Sequence[Mapping[str, Any]]
) -> tuple[AdvisedTest, ...]:
    """Return stored advice as tests in words, the best first."""
    return tuple(
        advised_test(h, said, number=number, tag=f"{number}")
        for number, said in enumerate(advice, start=1)
    )


def advised_test(
    h: harness.Harness, said: Mapping[str, Any], *, number: int, tag: str
) -> AdvisedTest:
    """Return one stored test with its outcomes in words."""
    then = said.get("then")
    return AdvisedTest(
        **_to_take(h, said, tag=tag),
        number=number,
        outcomes=tuple(_outcome(outcome) for outcome in said["outcomes"]),
        minutes=f"{said['minutes']:.0f}" if said["minutes"] >= 1 else "under 1",
        bits=said["bits"],
        reason=told_plainly(said.get("reason", "")),
        chained=tuple(
            _chained(h, said, other, tag=f"{tag}-{place}")
            for place, other in enumerate(said.get("chained", ()), start=1)
        ),
        then=then["words"] if then else "",
    )


def _chained(
    h: harness.Harness,
    first: Mapping[str, Any],
    said: Mapping[str, Any],
    *,
    tag: str,
) -> TestToTake:
    more = {
        key: [line for line in said[key] if line not in first[key]]
        for key in ("steps", "cautions")
    }
    return TestToTake(**_to_take(h, {**said, **more}, tag=tag))


def _to_take(
    h: harness.Harness, said: Mapping[str, Any], *, tag: str
) -> dict[str, Any]:
    tool, device = said["tool"], said.get("device") or ""
    probe, clip = said.get("probe") or "", said.get("clip") or ""
    wire = said.get("wire") or ""
    return {
        "tag": tag,
        "tool": tool,
        "tool_label": TOOL_LABELS[tool],
        "summary": capital(said["words"]),
        "rig": dict(said["rig"]),
        "rig_json": json.dumps(said["rig"], sort_keys=True),
        "rig_words": rig_words(h, said["rig"]),
        "probe": terminal_view(h, probe) if probe else None,
        "clip": terminal_view(h, clip) if clip else None,
        "device": device,
        "device_words": capital(device_words(h, device)) if device else "",
        "wire": wire_view(h, wire) if wire else None,
        "moving": bool(said.get("moving")),
        "steps": tuple(said["steps"]),
        "cautions": tuple(said["cautions"]),
        "words": word_choices(tool, kind_of(h, device)),
        "unit": UNIT_SIGNS.get(tool, ""),
    }


def _outcome(said: Mapping[str, Any]) -> OutcomeView:
    reads = said["reads"]
    word = reads if isinstance(reads, str) else ""
    return OutcomeView(
        reads=word,
        label=READING_LABELS.get(word, word) or _band(reads),
        means=told_plainly(said["means"]),
        percent=percent_words(said["probability"]),
        example=str(said.get("example", word)),
    )


def _band(reads: Mapping[str, Any]) -> str:
    for unit, sign in (("v", "V"), ("ohm", "\N{OHM SIGN}"), ("a", "A")):
        low, high = reads.get(f"from_{unit}"), reads.get(f"to_{unit}")
        if low is None and high is None:
            continue
        if low is None:
            return f"{_figure(high)} {sign} or less"
        if high is None:
            return f"{_figure(low)} {sign} or more"
        return f"{_figure(low)} to {_figure(high)} {sign}"
    return "another reading"


def _figure(value: Any) -> str:
    return f"{value:g}".replace("-", "\N{MINUS SIGN}")
