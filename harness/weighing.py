"""Findings weighed one after another, and the belief that they come to.

Single faults are weighed exactly for every finding. Of the pairs, the screen says which
are worth it; on a small loom all are. Where no pair explains the findings either, sets
of three are grown from the best pairs. The result depends on the findings alone, not on
their order.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import cached_property, lru_cache
from itertools import product

import numpy as np

from harness.belief import NO_REST, Belief, Rest, counted, sorted_set
from harness.circuit import BoolArray, FloatArray, IntArray
from harness.conflict.slips import log_floor
from harness.faults import DEFAULT_BAD_CONTACT_OHM
from harness.findings import Finding, is_fuse
from harness.model import Harness
from harness.overlooked import overlooked
from harness.predictions import Predictions, log_chance, predictions_for
from harness.priors import Priors, Rates, beside_log_odds, log_priors
from harness.screen import Screen
from harness.segments import Fault
from harness.sets import FaultSet, Sets
from harness.sizes import Sizes
from harness.triples import triples
from harness.ways_round import only_together

# With so few pairs all are weighed exactly.
ALL_PAIRS = 1500
# Else those whose estimate is not lighter than the best by more than this, and at
# most so many.
WITHIN = 6.9
MOST_PAIRS = 120
# While the rest is estimated to hold more than this beside the best explanation, more
# pairs are weighed, so many times over at most: estimates are often too high.
MOST_UNWEIGHED, ROUNDS = 0.2, 5
# When explanations that take a reading for a slip have so much of the belief, others
# are looked for.
DOUBTED = 0.2
# By how much a second fault may shift what a consumer or lamp gets, as a share.
BIT = 0.03
_CUT = {"open", "blown", "dead"}


@lru_cache(maxsize=4)
def sets_for(h: Harness) -> Sets:
    """Return the readings of sets of faults on a harness, remembered."""
    return Sets(predictions_for(h))


class Weighing:
    """The findings of one hunt and what they say of every hypothesis.

    Parameters
    ----------
    h : Harness
    priors : Priors, or mapping of (segment, mode) to float, optional
    all_pairs : int
        With no more pairs than this, all are weighed exactly.

    Raises
    ------
    HarnessError
        When the harness has no body to clip a lead to, or the priors do not fit it.
    """

    def __init__(
        self,
        h: Harness,
        priors: Priors | Rates | None = None,
        *,
        all_pairs: int = ALL_PAIRS,
    ) -> None:
        self.all_pairs = all_pairs
        self.h = h
        self.predictions: Predictions = predictions_for(h)
        self.sets = sets_for(h)
        self.log_prior = log_priors(h, priors)
        self.beside = beside_log_odds(h, priors)
        self.screen = Screen(self.predictions, self.log_prior, self.beside)
        self.sizes = Sizes(self.predictions)
        self.findings: tuple[Finding, ...] = ()
        self._logs: list[FloatArray] = []
        self._total = np.zeros(len(self.log_prior))
        self._floors: list[float] = []
        self._singles: tuple[FaultSet, ...] = tuple(
            () if fault is None else (fault,) for fault in self.predictions.faults
        )
        self._columns: dict[FaultSet, list[float]] = {}
        self._row_of = {f: i for i, f in enumerate(self.predictions.faults)}

    def copy(self) -> "Weighing":
        """Return a weighing that goes on from here by itself."""
        other = Weighing.__new__(Weighing)
        other.__dict__.update(self.__dict__)
        other.screen = self.screen.copy()
        other.sizes = self.sizes.copy()
        other._logs = list(self._logs)  # noqa: SLF001 - its own class
        columns = {faults: list(found) for faults, found in self._columns.items()}
        other._columns = columns  # noqa: SLF001 - its own class
        return other

    def add(self, finding: Finding) -> None:
        """Take a finding in."""
        findings = counted((*self.findings, finding))
        if len(findings) == len(self.findings):
            return
        self.findings = findings
        logs = self.predictions.log_likelihood(finding)
        self._logs.append(logs)
        self._total = self._total + logs
        self._floors = [*self._floors, *log_floor(self.h, [finding]).tolist()]
        self.screen.add(logs, self._at_most(finding, logs), finding)
        self.sizes.add(self.h, finding, logs)

    def _at_most(self, finding: Finding, logs: FloatArray) -> FloatArray:
        """Return how likely a word would be at most, were what is shown a bit off."""
        fuse = is_fuse(self.h, finding.test.device)
        if finding.moving or fuse or not np.isnan(finding.value):
            return logs
        shown = self.predictions.shown(finding.test)
        off = [log_chance(self.h, finding, shown * (1.0 + d)) for d in (-BIT, BIT)]
        most: FloatArray = np.maximum(logs, np.maximum(*off))
        return most

    def belief(self) -> Belief:
        """Return the posterior over all hypotheses."""
        best = float((self.log_prior + self._total).max())
        sound = float(self._total[0])
        sized = dict(self.sizes.proposed(self.log_prior, best - sound))
        more: dict[FaultSet, float] = {
            (fault,): p for fault, p in sized.items() if fault not in self._row_of
        }
        best = max(best, self._heaviest(more))
        pairs = self._pairs(best - sound)
        more |= pairs | self._sized_pairs(sized, pairs)
        best = max(best, self._heaviest(more))
        rest = self._rest(pairs, best)
        for _ in range(ROUNDS):
            if rest.log_weight < best + np.log(MOST_UNWEIGHED) or self._has_every:
                break
            further = self._promising(best - sound, pairs)
            pairs |= further
            more |= further
            best = max(best, self._heaviest(further))
            rest = self._rest(pairs, best)
        belief = self._of(more, rest)
        slips = self._doubts(belief)
        if slips.any():
            own = self.log_prior + self.beside
            own[~self.screen.may_show] = -np.inf
            grown = triples(belief, self.predictions.faults, own)
            more |= {faults: self._prior(faults) for faults in grown}
            belief = self._of(more, rest)
            slips = self._doubts(belief)
        if slips.any():
            found = overlooked(self.sets, belief, slips)
            belief = self._of(more | {f: self._prior(f) for f in found}, rest)
        return belief

    def _doubts(self, belief: Belief) -> BoolArray:
        """Return which readings each set takes for slips; none without reason to doubt.

        Before a finding is doubted, sets that the screen has overlooked are looked for.
        """
        slips: BoolArray = belief.log_likelihood < np.array(self._floors).reshape(
            -1, 1
        ) + np.log(2.0)
        doubted = float(belief.probability[slips.any(axis=0)].sum()) >= DOUBTED
        return slips if doubted else np.zeros_like(slips)

    def _prior(self, faults: FaultSet) -> float:
        """Return the log prior of a set; a size between has that of the others."""
        rows = [self._row_of.get(f) or self._row_of[_of_usual_size(f)] for f in faults]
        return float(self.log_prior[rows].sum()) + self.beside * (len(faults) - 1)

    def _of(self, more: dict[FaultSet, float], rest: Rest) -> Belief:
        """Return the belief over the single faults and more sets, with log priors."""
        singles, count = self._singles, len(self.findings)
        new = list(more)
        likely = np.empty((count, len(singles) + len(new)))
        if count:
            np.stack(self._logs, out=likely[:, : len(singles)])
        likely[:, len(singles) :] = self._weighed(new)
        priors = np.concatenate([self.log_prior, list(more.values())])
        return Belief((*singles, *new), priors, self.findings, likely, rest)

    def _heaviest(self, sets: dict[FaultSet, float]) -> float:
        """Return the log weight of the heaviest of some sets, -inf for none."""
        weights = self._weighed(list(sets)).sum(axis=0) + list(sets.values())
        return float(np.max(weights, initial=-np.inf))

    def _weighed(self, sets: Sequence[FaultSet]) -> FloatArray:
        """Return log likelihoods, shape (n_findings, n_sets), remembered for each."""
        count = len(self.findings)
        behind: dict[int, list[FaultSet]] = {}
        for faults in sets:
            known = self._columns.setdefault(faults, [])
            if len(known) < count:
                behind.setdefault(len(known), []).append(faults)
        for start, late in behind.items():
            logs = self.sets.log_likelihood(self.findings[start:], late)
            for faults, column in zip(late, logs.T.tolist(), strict=True):
                self._columns[faults] += column
        columns = [self._columns[faults] for faults in sets]
        return np.array(columns).reshape(len(sets), count).T

    def _pairs(self, best: float) -> dict[FaultSet, float]:
        """Return the pairs worth weighing exactly, with their log priors.

        Parameters
        ----------
        best : float
            Weight of the best explanation so far, relative to that of nothing wrong.
        """
        if self._has_every:
            return self._with_priors(self.screen.every())
        listed = {f: p for f, p in self._listed.items() if p > best - 4 * WITHIN}
        return self._promising(best, {}) | listed

    @property
    def _has_every(self) -> bool:
        """Whether all pairs are weighed exactly."""
        return self.screen.count <= self.all_pairs

    def _promising(self, best: float, but: Iterable[FaultSet]) -> dict[FaultSet, float]:
        """Return the most promising pairs but some, with their log priors."""
        found = self.screen.promising(best, WITHIN, MOST_PAIRS, self._members(but))
        return self._with_priors(found)

    def _with_priors(self, chosen: IntArray) -> dict[FaultSet, float]:
        both = self.log_prior[chosen].sum(axis=1) + self.beside
        return dict(zip(self._named(chosen), both.tolist(), strict=True))

    def _members(self, pairs: Iterable[FaultSet]) -> IntArray:
        """Return the rows of the members of pairs, shape (n, 2)."""
        rows = [[self._row_of[fault] for fault in faults] for faults in pairs]
        return np.array(rows, dtype=np.intp).reshape(-1, 2)

    def _named(self, chosen: IntArray) -> Iterator[FaultSet]:
        for i, j in chosen.tolist():
            one, other = self.predictions.faults[i], self.predictions.faults[j]
            if one is not None and other is not None:
                yield sorted_set(one, other)

    @cached_property
    def _listed(self) -> dict[FaultSet, float]:
        """The pairs of open segments that only together leave no way."""
        cut: dict[str, list[Fault]] = {}
        for fault in self.predictions.faults:
            if fault is not None and fault.mode in _CUT and not fault.moved:
                cut.setdefault(fault.segment, []).append(fault)
        pairs = (
            sorted_set(*pair)
            for one, other in only_together(self.h)
            for pair in product(cut.get(one, []), cut.get(other, []))
        )
        return {faults: self._prior(faults) for faults in pairs}

    def _sized_pairs(
        self, sized: Iterable[Fault], pairs: dict[FaultSet, float]
    ) -> dict[FaultSet, float]:
        """Put sizes found between into the pairs that hold the same contact."""
        found: dict[FaultSet, float] = {}
        by_segment = {fault.segment: fault for fault in sized}
        for faults, prior in pairs.items():
            for k, fault in enumerate(faults):
                new = by_segment.get(fault.segment)
                if new is not None and fault.mode == "resistive":
                    found[sorted_set(new, faults[1 - k])] = prior
        return dict(list(found.items())[: MOST_PAIRS // 4])

    def _rest(self, weighed: Iterable[FaultSet], best: float) -> Rest:
        """Return what the pairs not weighed exactly come to, by the estimates."""
        left_out = self._members(weighed)
        total, by_row = self.screen.rest(left_out, best - float(self._total[0]))
        if total <= 0.0:
            return NO_REST
        by_segment = {
            segment: float(by_row[rows].sum()) / total
            for segment, rows in self.predictions.rows_of.items()
        }
        by_meeting: dict[frozenset[str], float] = {}
        for row, segments in self._meetings:
            part = by_meeting.get(segments, 0.0)
            by_meeting[segments] = part + float(by_row[row]) / total
        return Rest(best + float(np.log(total)), by_segment, by_meeting)

    @cached_property
    def _meetings(self) -> tuple[tuple[int, frozenset[str]], ...]:
        """The hypotheses that make two segments bad, with the two."""
        faults = enumerate(self.predictions.faults)
        return tuple((i, frozenset(f.segments)) for i, f in faults if f and f.other)


def _of_usual_size(fault: Fault) -> Fault:
    return replace(fault, ohms=DEFAULT_BAD_CONTACT_OHM)


def believe(
    h: Harness,
    findings: Sequence[Finding],
    priors: Priors | Rates | None = None,
) -> Belief:
    """Weigh every hypothesis by every finding, in any order."""
    weighing = Weighing(h, priors)
    for finding in findings:
        weighing.add(finding)
    return weighing.belief()
