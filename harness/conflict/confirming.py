"""The one more test that a conclusion needs when it hangs on a single reading.

By the blunder rates a lone reading may settle a hunt, and a slip then goes unnoticed:
nothing contradicts it. So the conclusion is weighed once more with every reading far
likelier to be a slip. If it does not stand then, the test that tells most is advised;
when that reads as expected, two readings agree, and when not, the conflict is out.
"""

from collections.abc import Collection
from dataclasses import replace

import numpy as np

from harness.advice import Ranked, Survey, survey
from harness.belief import Belief
from harness.conflict.slips import log_floor
from harness.minutes import Surroundings
from harness.model import Harness
from harness.sets import FaultSet, Sets

# How many times likelier than by its blunder rate a reading is taken for a slip.
# Tried on three looms with one reading in twenty wrong, of the hunts that first ended
# wrong because of it: at 10 a third name it in the end, at 40 four of five, for 0.65 of
# a test more on the average; at 100 hardly more, for a whole test.
DOUBTED_TIMES = 40.0


def confirming(sets: Sets, belief: Belief, around: Surroundings) -> Ranked | None:
    """Return the test that would confirm where a hunt has ended.

    Parameters
    ----------
    sets : Sets
    belief : Belief
    around : Surroundings

    Returns
    -------
    Ranked or None
        None where the conclusion stands whichever reading is a slip, or where no test
        is left that would show it.
    """
    seen = doubtful_survey(sets, belief, around)
    return seen.ranked[0] if seen else None


def doubtful_survey(sets: Sets, belief: Belief, around: Surroundings) -> Survey | None:
    """Return what someone who trusts no reading much would test; None where nothing."""
    doubtful = doubtfully(sets.predictions.h, belief)
    seen = survey(sets, doubtful, around)
    if seen.suspects.isolated or not seen.ranked:
        return None
    return seen


def hangs_on(belief: Belief, segments: Collection[str]) -> tuple[str, FaultSet]:
    """Return the finding that a conclusion hangs on most, and what else it may be.

    Parameters
    ----------
    belief : Belief
    segments : collection of str
        Those concluded to be bad, at least one of them.

    Returns
    -------
    str
        The finding that speaks most against the rival.
    tuple of Fault
        The rival: likeliest of all in which they are sound, were one reading a slip.
    """
    logs = belief.log_likelihood
    bad = np.array(
        [
            any(name in segments for fault in faults for name in fault.segments)
            for faults in belief.sets
        ]
    )
    best = logs.max(axis=1, initial=-np.inf)
    forgiven = belief.log_weight + (best[:, None] - logs).max(axis=0, initial=0.0)
    rival = int(np.where(bad, -np.inf, forgiven).argmax())
    lone = int((logs[:, belief.top] - logs[:, rival]).argmax())
    return belief.findings[lone].id, belief.sets[rival]


def doubtfully(h: Harness, belief: Belief, times: float = DOUBTED_TIMES) -> Belief:
    """Return the belief of someone who trusts no reading much."""
    slip = log_floor(h, belief.findings)[:, None] + np.log(times)
    return replace(belief, log_likelihood=np.logaddexp(belief.log_likelihood, slip))
