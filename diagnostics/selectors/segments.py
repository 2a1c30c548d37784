"""Verdicts on a loom's segments, by stretch, in the order that current goes."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import harness
from diagnostics.convert import sequence_of
from diagnostics.words import segment_words

STRETCHES = ("standing feed", "switched feed", "consumers", "return")
STRETCH_NOTES = {
    "standing feed": "before the key switch, live whenever the battery is connected",
    "switched feed": "after the key switch",
    "consumers": "what the loom is there for",
    "return": "back through loom, frame and engine",
}
NAMED_AT_MOST = 3
VERDICTS = ("faulty", "suspect", "untested", "sound")


@dataclass(frozen=True, kw_only=True)
class SegmentView:
    """One segment with its verdict and what proves it."""

    segment: str
    label: str
    verdict: str
    percent: str
    proof: tuple[int, ...]
    proven_amps: float | None
    words: str

    @property
    def named(self) -> tuple[str, ...]:
        """The numbers of the findings that a line has room for."""
        return tuple(str(number) for number in self.proof[:NAMED_AT_MOST])

    @property
    def others(self) -> str:
        """How many findings prove it beside those."""
        more = len(self.proof) - NAMED_AT_MOST
        return f"and {more} more" if more > 0 else ""

    @property
    def proof_words(self) -> str:
        """What proves it, in one line without links."""
        if not self.words:
            return ""
        what = "finding" if len(self.proof) == 1 else "findings"
        named = " ".join((", ".join(self.named), self.others)).strip()
        return f"{self.words} {what} {named}"


@dataclass(frozen=True, kw_only=True)
class StretchView:
    """One stretch; what is closest to the fault stands first."""

    name: str
    note: str
    bad: tuple[SegmentView, ...]
    untested: tuple[SegmentView, ...]
    sound: tuple[SegmentView, ...]
    tally: str

    @property
    def segments(self) -> tuple[SegmentView, ...]:
        """All of them, the worst first."""
        return self.bad + self.untested + self.sound


def stretches(
    *, h: harness.Harness, segments: Mapping[str, Mapping[str, Any]]
) -> tuple[StretchView, ...]:
    """Return the stretches that the loom has, each with its segments."""
    found = []
    for name in STRETCHES:
        views = [
            _view(h, segment, said)
            for segment, said in sorted(segments.items(), key=_by_suspicion)
            if said["stretch"] == name
        ]
        if views:
            found.append(_stretch(name, views))
    return tuple(found)


def _by_suspicion(item: tuple[str, Mapping[str, Any]]) -> tuple[float, str]:
    return (-item[1]["probability"], item[0])


def percent_words(probability: float) -> str:
    """Return a probability as people read it, without claiming certainty.

    Examples
    --------
    >>> percent_words(0.4149), percent_words(0.0004), percent_words(0.9999)
    ('41 %', 'under 1 %', 'over 99 %')
    """
    share = probability * 100
    if share < 1:
        return "under 1 %"
    if share > 99:  # noqa: PLR2004 - the words above say it
        return "over 99 %"
    return f"{share:.0f} %"


def _stretch(name: str, views: list[SegmentView]) -> StretchView:
    by_verdict = {
        verdict: tuple(view for view in views if view.verdict == verdict)
        for verdict in VERDICTS
    }
    return StretchView(
        name=name,
        note=STRETCH_NOTES[name],
        bad=by_verdict["faulty"] + by_verdict["suspect"],
        untested=by_verdict["untested"],
        sound=by_verdict["sound"],
        tally=", ".join(
            f"{len(found)} {verdict}" for verdict, found in by_verdict.items() if found
        ),
    )


def _view(h: harness.Harness, segment: str, said: Mapping[str, Any]) -> SegmentView:
    proof = tuple(sequence_of(name) for name in said["proof"])
    return SegmentView(
        segment=segment,
        label=segment_words(h, segment),
        verdict=said["verdict"],
        percent=percent_words(said["probability"]),
        proof=proof,
        proven_amps=said["proven_amps"],
        words=_proof_words(said["verdict"], proof, said["proven_amps"]),
    )


def _proof_words(verdict: str, proof: tuple[int, ...], amps: float | None) -> str:
    if verdict == "untested" or not proof:
        return ""
    if verdict != "sound":
        return "Pointed to by"
    if amps is None:
        return "Proven by"
    # A quarter of an ampere proves a path, not that it carries a headlamp.
    return f"Proven at {amps:.2g} A, not for more, by"
