"""One hunt played through: the engine advises, a bike with known faults answers."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.random import Generator

from harness.advice import Survey, survey
from harness.belief import Belief
from harness.conflict import conflict_in
from harness.findings import Finding
from harness.minutes import minutes_for, surroundings
from harness.model import Harness
from harness.priors import Priors, Rates
from harness.rehearsal.report import (
    answer,
    noisy_answer,
    report_tests,
    report_words,
    reported,
)
from harness.sets import FaultSet
from harness.weighing import Weighing, sets_for

MOST_TESTS = 40
TOP = 3


@dataclass(frozen=True, slots=True)
class Played:
    """One hunt played through.

    Attributes
    ----------
    faults : tuple of Fault
        What was wrong.
    isolated : bool
        Whether the suspects stood at 0.95 and one of the faults is among them.
    rank : int
        The place, from 1, at which the faults or a set that no offered test tells apart
        from them stands among the explanations; 0 where it has none of the first three.
    stated : tuple of (float, bool)
        For each step the stated probability of the likeliest suspects, and whether one
        of the faults was among them.
    entropy_bits : float
        Of the suspects after the report.
    wrong : tuple of str
        Findings that were plain wrong.
    doubted : tuple of str
        Findings that the conflict names at the end.
    """

    faults: FaultSet
    isolated: bool
    suspects: int
    tests: int
    minutes: float
    rank: int
    stated: tuple[tuple[float, bool], ...]
    entropy_bits: float
    wrong: tuple[str, ...] = ()
    doubted: tuple[str, ...] = ()


@dataclass
class Hunts:
    """Hunts on one harness; what a report comes to is worked out once.

    Parameters
    ----------
    h : Harness
    priors : Priors, or mapping of (segment, mode) to float, optional
    wrong : float
        How often a reading is plain wrong; none of it, nor any other noise, at zero.
    """

    h: Harness
    priors: Priors | Rates | None = None
    wrong: float = 0.0
    _after: dict[bytes, Weighing] = field(default_factory=dict, repr=False)

    def after_report(self, faults: FaultSet) -> Weighing | None:
        """Return the weighing of a bike's report; None if it comes to no rest."""
        words = report_words(sets_for(self.h), faults)
        if words is None:
            return None
        key = words.tobytes()
        if key not in self._after:
            if len(self._after) >= REPORTS_KEPT:
                del self._after[next(iter(self._after))]
            weighing = Weighing(self.h, self.priors)
            for finding in reported(self.h, words):
                weighing.add(finding)
            weighing.belief()
            self._after[key] = weighing
        return self._after[key].copy()

    def play(self, faults: FaultSet, random: Generator | None = None) -> Played | None:
        """Play one set of faults through; None if the bike comes to no rest."""
        weighing = self.after_report(faults)
        if weighing is None:
            return None
        sets = weighing.sets
        findings: list[Finding] = []
        stated: list[tuple[float, bool]] = []
        wrong: list[str] = []
        minutes, bits = 0.0, 0.0
        while True:
            belief = weighing.belief()
            around = surroundings(self.h, findings)
            taken = around.taken | set(report_tests(self.h))
            around = replace(around, taken=taken)
            seen = survey(sets, belief, around)
            suspects = seen.suspects
            stated.append((suspects.probability, suspects.hold(faults)))
            if not findings:
                bits = suspects.entropy_bits
            if suspects.isolated or not seen.ranked or len(findings) >= MOST_TESTS:
                break
            test = seen.ranked[0].test
            minutes += minutes_for(self.h, test, around)
            shown = float(sets.shown([test], [faults])[0, 0])
            if np.isnan(shown):
                return None
            name = f"f{len(findings) + 1}"
            if random is None:
                finding = answer(self.h, test, shown, id_=name)
            else:
                finding, slipped = noisy_answer(
                    self.h, test, shown, random, self.wrong, id_=name
                )
                wrong += [name] if slipped else []
            findings.append(finding)
            weighing.add(finding)
        conflict = conflict_in(self.h, belief)
        return Played(
            faults=faults,
            isolated=suspects.isolated and suspects.hold(faults),
            suspects=len(suspects.segments),
            tests=len(findings),
            minutes=minutes,
            rank=_rank(belief, _alike_to(seen, faults), faults),
            stated=tuple(stated),
            entropy_bits=bits,
            wrong=tuple(wrong),
            doubted=tuple(n for s in (conflict.sets if conflict else ()) for n in s),
        )


REPORTS_KEPT = 64


def _alike_to(seen: Survey, faults: FaultSet) -> list[FaultSet]:
    """Return the sets that no offered test tells apart from some faults."""
    sets = [seen.belief.sets[row] for row in seen.rows.tolist()]
    if faults not in sets:
        return []
    label = seen.alike[sets.index(faults)]
    return [sets[i] for i in np.flatnonzero(seen.alike == label).tolist()]


def _rank(belief: Belief, alike: Sequence[FaultSet], faults: FaultSet) -> int:
    """Return the place of the faults, or of a set like them, among explanations."""
    wanted = {_ways(faults), *(_ways(others) for others in alike)}
    for place, (ways, _, _) in enumerate(belief.explanations()[:TOP], start=1):
        if ways in wanted:
            return place
    return 0


def _ways(faults: FaultSet) -> tuple[tuple[str, str, str], ...]:
    return tuple((f.segment, f.mode, f.other) for f in faults)
