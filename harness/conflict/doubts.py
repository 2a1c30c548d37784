"""The smallest sets of findings to doubt, and when there is reason to doubt any.

An explanation (a set of faults) takes some readings for slips. Together they are what
has to be doubted for it to stand. As long as explanations that doubt nothing hold most
of the belief, the findings agree.
"""

from dataclasses import dataclass

import numpy as np

from harness.belief import Belief
from harness.circuit import BoolArray
from harness.conflict.drawings import DrawingDoubt
from harness.conflict.slips import are_slips
from harness.model import Harness
from harness.sets import FaultSet

# There is a conflict when explanations that doubt some finding have so much of the
# belief.
DOUBTED = 0.92
# A set of findings is named when what it leaves standing is no less likely than this
# beside the likeliest.
WORTH_NAMING = 0.01
NAMED_AT_MOST = 5
# Of each doubt so many explanations are told apart.
WAYS_KEPT = 8


@dataclass(frozen=True, slots=True)
class Doubt:
    """Findings that were misread together, if the explanation that then stands is true.

    Attributes
    ----------
    findings : tuple of str
    ways : tuple of (tuple of Fault, float)
        The likeliest explanations that need no other finding misread, best first, with
        their probabilities.
    probability : float
        Of all explanations that take these findings, and no others, for slips.
    """

    findings: tuple[str, ...]
    ways: tuple[tuple[FaultSet, float], ...]
    probability: float

    @property
    def standing(self) -> FaultSet:
        """The likeliest explanation that stands."""
        return self.ways[0][0]


@dataclass(frozen=True, slots=True)
class Conflict:
    """What may be doubted where the findings cannot all be true.

    Attributes
    ----------
    doubts : tuple of Doubt
        Those of the fewest findings; the likeliest first.
    probability : float
        That some finding was misread, of all that the drawing allows.
    drawings : tuple of DrawingDoubt
        Drawings under which no finding was misread; the likeliest first.
    several : tuple of Fault
        The faults that would explain everything at once, where only such a coincidence
        speaks against a drawing.
    """

    doubts: tuple[Doubt, ...]
    probability: float
    drawings: tuple[DrawingDoubt, ...] = ()
    several: FaultSet = ()

    @property
    def sets(self) -> tuple[tuple[str, ...], ...]:
        """The smallest sets of findings of which each must hold a misread one."""
        return tuple(doubt.findings for doubt in self.doubts)

    @property
    def findings(self) -> tuple[str, ...]:
        """Every finding of those sets, once."""
        return tuple(dict.fromkeys(name for names in self.sets for name in names))


def conflict_in(h: Harness, belief: Belief) -> Conflict | None:
    """Return which findings cannot all be true, or None where they can."""
    if not belief.findings:
        return None
    doubted = are_slips(h, belief.findings, belief.log_likelihood)
    some = doubted.any(axis=0)
    probability = float(belief.probability[some].sum())
    if probability < DOUBTED:
        return None
    return Conflict(_smallest(belief, doubted), probability)


def with_one_fault(h: Harness, belief: Belief) -> Conflict | None:
    """Return what would have to be doubted if no more than one fault were allowed.

    Returns
    -------
    Conflict or None
        None where one fault explains everything.
    """
    doubted = are_slips(h, belief.findings, belief.log_likelihood)
    several = np.array([len(faults) > 1 for faults in belief.sets])
    if not doubted[:, ~several].any(axis=0).all():
        return None
    doubted[:, several] = False
    probability = float(belief.probability[~several].sum())
    return Conflict(_smallest(belief, doubted), probability)


def _smallest(belief: Belief, doubted: BoolArray) -> tuple[Doubt, ...]:
    """Return the doubts worth naming that need the fewest findings misread."""
    found = _by_findings(belief, doubted)
    best = max(doubt.probability for doubt in found)
    worth = [d for d in found if d.probability >= WORTH_NAMING * best]
    fewest = min(len(doubt.findings) for doubt in worth)
    smallest = [doubt for doubt in worth if len(doubt.findings) == fewest]
    smallest.sort(key=lambda doubt: -doubt.probability)
    return tuple(smallest[:NAMED_AT_MOST])


def _by_findings(belief: Belief, doubted: BoolArray) -> list[Doubt]:
    """Return the doubt for each set of findings that some explanation needs misread."""
    rows: dict[bytes, list[int]] = {}
    for row in np.flatnonzero(doubted.any(axis=0)).tolist():
        rows.setdefault(doubted[:, row].tobytes(), []).append(row)
    out = []
    for some in rows.values():
        named = np.flatnonzero(doubted[:, some[0]]).tolist()
        p = belief.probability[some]
        best = np.argsort(-p, kind="stable")[:WAYS_KEPT].tolist()
        out.append(
            Doubt(
                tuple(belief.findings[i].id for i in named),
                tuple((belief.sets[some[i]], float(p[i])) for i in best),
                float(p.sum()),
            )
        )
    return out
