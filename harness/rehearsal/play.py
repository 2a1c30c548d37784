"""Hunts played through: the engine advises, bikes with known faults answer.

Bikes that read alike so far are on the same trail: what there is to believe and to
advise is worked out once for all of them, and they part where their answers do.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.random import Generator

from harness.advice import Ranked, Survey, survey
from harness.belief import Belief, Way
from harness.circuit import IntArray
from harness.conflict import confirming, conflict_in
from harness.findings import Finding
from harness.likelihood import eye_chances
from harness.minutes import Surroundings, minutes_for, surroundings
from harness.model import Harness
from harness.priors import Priors, Rates
from harness.rehearsal.answers import (
    AsLikely,
    Instruments,
    Slips,
    Sound,
    drawn_words,
)
from harness.rehearsal.report import Reports, report_tests, reported
from harness.sets import FaultSet
from harness.suspects import Suspects
from harness.weighing import Weighing, sets_for

MOST_TESTS = 40
TOP = 3
# How often a conclusion is put to one more test.
MOST_TRIED = 4


@dataclass(frozen=True, slots=True)
class Played:
    """One hunt played through.

    Attributes
    ----------
    faults : tuple of Fault
        What was wrong.
    isolated : bool
        Whether the suspects stood at 0.95 and one of the faults is among them.
    misled : bool
        Whether a reading was plain wrong and the first conclusion, or the last, not
        right.
    rank : int
        The place, from 1, at which the faults or a set that no offered test tells apart
        from them stands among the explanations; 0 where it has none of the first three.
    stated : tuple of (float, bool)
        For each step the stated probability of the likeliest suspects, and whether it
        was they.
    entropy_bits : float
        Of the suspects after the report.
    wrong : tuple of str
        Findings that were plain wrong.
    doubted : tuple of str
        Findings that the conflict names at the end.
    """

    faults: FaultSet
    isolated: bool
    misled: bool
    suspects: int
    tests: int
    minutes: float
    rank: int
    stated: tuple[tuple[float, bool], ...]
    entropy_bits: float
    wrong: tuple[str, ...] = ()
    doubted: tuple[str, ...] = ()


@dataclass
class Bike:
    """A bike with faults in it, and which of its answers so far were plain wrong."""

    number: int
    faults: FaultSet
    random: Generator
    wrong: list[str] = field(default_factory=list)


@dataclass
class _Trail:
    """What has been found out so far on some bikes."""

    weighing: Weighing
    findings: tuple[Finding, ...] = ()
    suspects: tuple[Suspects, ...] = ()
    minutes: float = 0.0
    tried: int = 0

    def onward(self, finding: Finding, minutes: float) -> "_Trail":
        weighing = self.weighing.copy()
        weighing.add(finding)
        findings = (*self.findings, finding)
        return replace(self, weighing=weighing, findings=findings, minutes=minutes)


@dataclass
class Hunts:
    """Hunts on one harness.

    Parameters
    ----------
    h : Harness
    priors : Priors, or mapping of (segment, mode) to float, optional
    instruments : Sound, Slips or AsLikely
        How the answers come about; with the last the rider's words as well.
    """

    h: Harness
    priors: Priors | Rates | None = None
    instruments: Instruments = field(default_factory=Sound)

    def play(self, faults: FaultSet, random: Generator | None = None) -> Played | None:
        """Play one set of faults through; None if the bike comes to no rest."""
        bike = Bike(0, faults, random or np.random.default_rng(0))
        return next((played for _, played in self.play_all([bike])))

    def play_all(self, bikes: Sequence[Bike]) -> Iterator[tuple[Bike, Played | None]]:
        """Play bikes through, in whatever order; None where one comes to no rest."""
        reports = Reports.of(sets_for(self.h), [bike.faults for bike in bikes])
        alike: dict[bytes, list[Bike]] = {}
        words_of: dict[bytes, IntArray] = {}
        for i, bike in enumerate(bikes):
            if not reports.steady[i]:
                yield bike, None
                continue
            words = reports.words[:, i]
            if isinstance(self.instruments, AsLikely):
                chances = eye_chances(reports.shares[:, i])
                words = drawn_words(chances, bike.random)
            key = words.tobytes()
            words_of[key] = words
            alike.setdefault(key, []).append(bike)
        for key in sorted(alike):
            trail = _Trail(self.after_report(words_of[key]))
            yield from self._follow(trail, alike[key])

    def after_report(self, words: IntArray) -> Weighing:
        """Return what a report comes to."""
        weighing = Weighing(self.h, self.priors)
        for finding in reported(self.h, words):
            weighing.add(finding)
        return weighing

    def _follow(
        self, trail: _Trail, bikes: list[Bike]
    ) -> Iterator[tuple[Bike, Played | None]]:
        """Follow the advice on bikes that have answered alike so far."""
        sets = trail.weighing.sets
        belief = trail.weighing.belief()
        around = surroundings(self.h, trail.findings)
        taken = around.taken | set(report_tests(self.h))
        around = replace(around, taken=taken)
        seen = survey(sets, belief, around)
        trail = replace(trail, suspects=(*trail.suspects, seen.suspects))
        trail, asked = self._next(trail, belief, seen, around)
        if asked is None or len(trail.findings) >= MOST_TESTS:
            yield from self._ended(trail, belief, seen, bikes)
            return
        test = asked.test
        minutes = trail.minutes + minutes_for(self.h, test, around)
        shown = sets.shown([test], [bike.faults for bike in bikes])[0]
        answered: dict[Finding, list[Bike]] = {}
        name = f"f{len(trail.findings) + 1}"
        for bike, value in zip(bikes, shown.tolist(), strict=True):
            if np.isnan(value):
                yield bike, None
                continue
            finding, is_wrong = self.instruments.answer(
                self.h, test, value, bike.random, id_=name
            )
            bike.wrong += [name] if is_wrong else []
            answered.setdefault(finding, []).append(bike)
        for finding, alike in answered.items():
            yield from self._follow(trail.onward(finding, minutes), alike)

    def _next(
        self, trail: _Trail, belief: Belief, seen: Survey, around: Surroundings
    ) -> tuple[_Trail, Ranked | None]:
        """Return the test to make next, None at the end of the hunt.

        Where readings may be wrong, a conclusion that hangs on one of them is tried.
        """
        if not seen.suspects.isolated:
            return trail, seen.ranked[0] if seen.ranked else None
        if not isinstance(self.instruments, Slips) or trail.tried >= MOST_TRIED:
            return trail, None
        trail = replace(trail, tried=trail.tried + 1)
        return trail, confirming(trail.weighing.sets, belief, around)

    def _ended(
        self, trail: _Trail, belief: Belief, seen: Survey, bikes: list[Bike]
    ) -> Iterator[tuple[Bike, Played]]:
        conflict = conflict_in(self.h, belief)
        doubted = tuple(n for s in (conflict.sets if conflict else ()) for n in s)
        best = [ways for ways, _, _ in belief.explanations()[:TOP]]
        last = trail.suspects[-1]
        first = next((s for s in trail.suspects if s.isolated), last)
        for bike in bikes:
            yield (
                bike,
                Played(
                    faults=bike.faults,
                    isolated=_right(last, bike.faults),
                    misled=bool(bike.wrong)
                    and not all(_right(s, bike.faults) for s in (first, last)),
                    suspects=len(last.segments),
                    tests=len(trail.findings),
                    minutes=trail.minutes,
                    rank=_rank(best, seen, bike.faults),
                    stated=tuple(
                        (s.probability, _come_true(s, bike.faults))
                        for s in trail.suspects
                    ),
                    entropy_bits=trail.suspects[0].entropy_bits,
                    wrong=tuple(bike.wrong),
                    doubted=doubted,
                ),
            )


def _right(suspects: Suspects, faults: FaultSet) -> bool:
    """Return whether a hunt that ended so has found one of the faults."""
    return suspects.isolated and suspects.hold(faults)


def _come_true(suspects: Suspects, faults: FaultSet) -> bool:
    """Return whether all segments of one of the explanations stated are bad."""
    if not suspects.segments:
        return faults in suspects.alike
    bad = {s for fault in faults for s in fault.segments}
    return any(
        bad.issuperset(s for f in explanation for s in f.segments)
        for explanation in suspects.alike
    )


def _rank(best: Sequence[tuple[Way, ...]], seen: Survey, faults: FaultSet) -> int:
    """Return the place of the faults, or of a set like them, among explanations."""
    wanted = {_ways(faults), *(_ways(others) for others in _alike_to(seen, faults))}
    places = (place for place, ways in enumerate(best, start=1) if ways in wanted)
    return next(places, 0)


def _alike_to(seen: Survey, faults: FaultSet) -> list[FaultSet]:
    """Return the sets that no offered test tells apart from some faults."""
    sets = [seen.belief.sets[row] for row in seen.rows.tolist()]
    if faults not in sets:
        return []
    label = seen.alike[sets.index(faults)]
    return [sets[i] for i in np.flatnonzero(seen.alike == label).tolist()]


def _ways(faults: FaultSet) -> tuple[Way, ...]:
    return tuple((f.segment, f.mode, f.other) for f in faults)
