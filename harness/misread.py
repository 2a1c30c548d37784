"""Which findings a hypothesis has to take for misread."""

import numpy as np

from harness.belief import Belief
from harness.circuit import BoolArray
from harness.findings import Finding

# A finding is taken as misread under a hypothesis when another explains it this much
# better, or when nothing explains it better than a blunder would.
MISREAD_RATIO = 0.05
MISREAD_WORD = 0.05
MISREAD_METER = 0.02


def misread(belief: Belief) -> BoolArray:
    """Return which findings each set of faults makes out to be misread.

    Returns
    -------
    ndarray of bool, shape (n_findings, n_sets)
    """
    best = belief.log_likelihood.max(axis=1)
    floor = np.array([_explained(finding) for finding in belief.findings])
    reached = np.maximum(best, floor)
    out: BoolArray = belief.log_likelihood < reached[:, None] + np.log(MISREAD_RATIO)
    return out


def _explained(finding: Finding) -> float:
    """Return the log likelihood that an honest reading has at least somewhere."""
    return float(np.log(MISREAD_WORD if np.isnan(finding.value) else MISREAD_METER))
