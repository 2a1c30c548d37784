"""Why a segment has its verdict, step by step from the findings."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import harness
from diagnostics.convert import sequence_of
from diagnostics.engine import explanation, loom_of
from diagnostics.selectors.cases import CaseHead, case_page
from diagnostics.selectors.segments import percent_words
from diagnostics.words import segment_words, told_plainly
from shop.domain.refusals import NotFound
from shop.domain.roles import Viewer


@dataclass(frozen=True, kw_only=True)
class SegmentLink:
    """A segment that a step speaks of."""

    segment: str
    label: str


@dataclass(frozen=True, kw_only=True)
class Part:
    """A piece of a sentence; where it names a finding, that finding's number."""

    text: str
    finding: int | None


@dataclass(frozen=True, kw_only=True)
class WhyStep:
    """One sentence of the chain, and the findings and other segments it speaks of.

    `further` are the findings that neither this sentence nor one before it names.
    """

    sentence: str
    parts: tuple[Part, ...]
    findings: tuple[int, ...]
    further: tuple[int, ...]
    segments: tuple[SegmentLink, ...]


@dataclass(frozen=True, kw_only=True)
class Explanation:
    """The chain from findings to the verdict on one segment; the verdict stands first.

    It is told with what the shop has learned by now, so a likelihood may differ a
    little from that of the day.
    """

    segment: str
    label: str
    verdict: str
    percent: str
    steps: tuple[WhyStep, ...]


@dataclass(frozen=True, kw_only=True)
class ExplanationPage:
    """A segment's explanation and the case that it belongs to."""

    head: CaseHead
    explanation: Explanation


def explanation_page(*, case_id: int, segment: str, viewer: Viewer) -> ExplanationPage:
    """Return why a segment has the verdict that the bench page shows.

    Raises
    ------
    NotFound
        There is no such case, or its drawing has no such segment.
    """
    page = case_page(case_id=case_id, viewer=viewer)
    h = loom_of(page.head.harness_sha256)
    if segment not in harness.segments_of(h):
        raise NotFound(
            "segment-not-found",
            f"The drawing has no segment “{segment[:80]}”.",
            "segment",
        )
    said = explanation(
        h,
        standing=page.standing,
        segment=segment,
    )
    return ExplanationPage(head=page.head, explanation=_told(h, said))


def _told(h: harness.Harness, said: Mapping[str, Any]) -> Explanation:
    own = said["segment"]
    return Explanation(
        segment=own,
        label=segment_words(h, own),
        verdict=said["verdict"],
        percent=percent_words(said["probability"]),
        steps=tuple(_steps(h, own, said["steps"])),
    )


def _steps(
    h: harness.Harness, own: str, said: Sequence[Mapping[str, Any]]
) -> Iterator[WhyStep]:
    linked: set[str] = set()
    shown: set[int] = set()
    for place, step in enumerate(said):
        sentence = told_plainly(step["sentence"])
        parts = tuple(_parts(sentence))
        findings = tuple(sequence_of(name) for name in step["findings"])
        shown |= {part.finding for part in parts if part.finding is not None}
        # The verdict comes first, and what follows names its findings.
        further = [number for number in findings if place and number not in shown]
        others = [n for n in step["segments"] if n != own and n not in linked]
        shown |= set(further)
        linked |= set(others)
        yield WhyStep(
            sentence=sentence,
            parts=parts,
            findings=findings,
            further=tuple(sorted(further)),
            segments=tuple(
                SegmentLink(segment=name, label=segment_words(h, name))
                for name in dict.fromkeys(others)
            ),
        )


_FINDING = re.compile(r"\b(findings? \d+)", re.IGNORECASE)


def _parts(sentence: str) -> Iterator[Part]:
    for place, text in enumerate(_FINDING.split(sentence)):
        number = int(text.rpartition(" ")[2]) if place % 2 else None
        if text:
            yield Part(text=text, finding=number)
