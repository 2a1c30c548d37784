"""All that an explanation draws on: the belief, the verdicts and what was surveyed."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from harness.advice import Ranked, Survey
from harness.belief import Belief
from harness.findings import Finding, Test
from harness.model import Harness
from harness.segments import Fault
from harness.sets import FaultSet, Sets
from harness.verdicts import REFUTED, Judged, is_cut


@dataclass(frozen=True)
class Known:
    """What is known when a verdict is explained.

    Attributes
    ----------
    judged : dict of str to Judged
        By segment.
    survey : Survey
        Of all offered tests.
    confirming : Ranked or None
        The test that the conclusion still wants, if there is one.
    """

    sets: Sets
    belief: Belief
    judged: dict[str, Judged]
    survey: Survey
    confirming: Ranked | None

    @property
    def h(self) -> Harness:
        """The loom as drawn."""
        return self.sets.predictions.h

    @cached_property
    def number_of(self) -> dict[str, int]:
        """The place of each finding that counts, by its id."""
        return {f.id: i for i, f in enumerate(self.belief.findings)}

    def finding(self, name: str) -> Finding:
        """Return a finding by its id."""
        return self.belief.findings[self.number_of[name]]

    def shown(self, test: Test, faults: FaultSet) -> float:
        """Return what a test would show with some faults in."""
        return float(self.sets.shown([test], [faults])[0, 0])

    def cut(self, segment: str) -> FaultSet:
        """Return the fault that parts a segment; what else it can have where none."""
        singles = [self.belief.sets[row] for row in self.belief.rows_of(segment)]
        return next((f for f in singles if is_cut(f[0])), singles[0])

    def beside(self, name: str) -> FaultSet:
        """Return what a finding is judged beside: nothing wrong, or the likeliest."""
        logs = self.belief.log_likelihood[self.number_of[name]]
        if logs[0] - logs.max() > REFUTED:
            return ()
        return self.belief.sets[self.belief.top]

    def likeliest(self, segment: str) -> tuple[FaultSet, float]:
        """Return the likeliest set with a segment bad, and how likely its ways are."""
        bad = [
            segment in {name for fault in faults for name in fault.segments}
            for faults in self.belief.sets
        ]
        rows = np.flatnonzero(bad)
        weights = self.belief.probability[rows]
        best = self.belief.sets[int(rows[weights.argmax()])]
        ways = {(f.segment, f.mode, f.other) for f in best}
        p = sum(
            float(weight)
            for row, weight in zip(rows.tolist(), weights, strict=True)
            if {(f.segment, f.mode, f.other) for f in self.belief.sets[row]} == ways
        )
        return best, p


def without(faults: FaultSet, segment: str) -> FaultSet:
    """Return a set less what is wrong with one segment."""
    return tuple(fault for fault in faults if segment not in fault.segments)


def of_segment(faults: FaultSet, segment: str) -> tuple[Fault, ...]:
    """Return what is wrong with one segment in a set."""
    return tuple(fault for fault in faults if segment in fault.segments)
