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
from harness.circuit import FloatArray, IntArray
from harness.conflict.slips import log_floor
from harness.faults import DEFAULT_BAD_CONTACT_OHM
from harness.findings import Finding, is_fuse
from harness.misread import misread
from harness.model import Harness
from harness.overlooked import overlooked
from harness.predictions import Predictions, log_chance, predictions_for
from harness.priors import Priors, Rates, beside_log_odds, log_priors
from harness.screen import Screen
from harness.segments import Fault
from harness.sets import FaultSet, Sets
from harness.sizes import Sizes
from harness.ways_round import only_together

# With so few pairs all are weighed exactly.
ALL_PAIRS = 1500
# Else those whose estimate is not lighter than the best by more than this, and at
# most so many.
WITHIN = 6.9
MOST_PAIRS = 120
GROWN_FROM, MOST_TRIPLES = 12, 60
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
        sized = dict(self.sizes.proposed(self.log_prior, best))
        more: dict[FaultSet, float] = {
            (fault,): p for fault, p in sized.items() if fault not in self._row_of
        }
        best = max(best, self._heaviest(more))
        pairs = self._pairs(best - float(self._total[0]))
        more |= pairs | self._sized_pairs(sized, pairs)
        rest = self._rest(pairs, max(best, self._heaviest(more)))
        belief = self._of(more, rest)
        if self.findings and misread(belief).any(axis=0).all():
            triples = self._triples(belief)
            more |= triples
            belief = self._of(more, rest)
        return self._nothing_overlooked(belief, more, rest)

    def _nothing_overlooked(
        self, belief: Belief, more: dict[FaultSet, float], rest: Rest
    ) -> Belief:
        """Look for sets that the screen overlooked before a finding is doubted."""
        if not self.findings:
            return belief
        slips = belief.log_likelihood < np.array(self._floors)[:, None] + np.log(2.0)
        if float(belief.probability[slips.any(axis=0)].sum()) < DOUBTED:
            return belief
        found = overlooked(self.sets, belief, slips)
        return self._of(more | {f: self._prior(f) for f in found}, rest)

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
        every = self.screen.count <= self.all_pairs
        if every:
            chosen = self.screen.every()
        else:
            chosen = self.screen.promising(best, WITHIN, MOST_PAIRS)
        both = self.log_prior[chosen].sum(axis=1) + self.beside
        pairs = dict(zip(self._named(chosen), both.tolist(), strict=True))
        if not every:
            listed = self._listed.items()
            pairs |= {f: p for f, p in listed if p > best - 4 * WITHIN}
        return pairs

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
        members = [[self._row_of[fault] for fault in faults] for faults in weighed]
        left_out = np.array(members, dtype=np.intp).reshape(-1, 2)
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

    def _triples(self, belief: Belief) -> dict[FaultSet, float]:
        """Grow the best pairs by a third fault, the most promising first."""
        likely = np.array(self._logs)
        sound = likely[:, :1]
        a = likely - sound
        rows = [i for i, faults in enumerate(belief.sets) if len(faults) == 2]  # noqa: PLR2004
        rows.sort(key=lambda i: -belief.log_weight[i])
        grown: dict[FaultSet, tuple[float, float]] = {}
        for row in rows[:GROWN_FROM]:
            pair = belief.sets[row]
            b = (belief.log_likelihood[:, row] - sound[:, 0])[:, None]
            low, high = np.minimum(a, b), np.maximum(a, b)
            gain = np.clip(a + b, low, high).sum(axis=0)
            weight = gain + self.log_prior + self._prior(pair) + self.beside
            taken = {s for f in pair for s in f.segments}
            for i in np.argsort(-weight, kind="stable")[: 3 * MOST_TRIPLES].tolist():
                third = self.predictions.faults[i]
                if third is None or taken & set(third.segments):
                    continue
                if third.moved and not self.screen.any_moving:
                    continue
                faults = sorted_set(*pair, third)
                prior = float(self._prior(pair) + self.log_prior[i] + self.beside)
                grown[faults] = (float(weight[i]), prior)
        best = sorted(grown.items(), key=lambda item: (-item[1][0], item[0]))
        return {faults: prior for faults, (_, prior) in best[:MOST_TRIPLES]}


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
