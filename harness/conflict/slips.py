"""How likely a reading was a plain slip, were some explanation true.

A reading that no honest instrument would show is as likely as the blunders that may
give it (`likelihood.py`). Where that is most of its likelihood, it was a slip.
"""

import numpy as np

from harness.belief import Belief
from harness.circuit import BoolArray, FloatArray
from harness.findings import Finding
from harness.model import Harness
from harness.predictions import log_chance

# From here on an explanation is said to take a reading for a slip.
SLIPPED = 0.5
_FAR = 1e7


def log_floor(h: Harness, finding: Finding) -> float:
    """Return the log likelihood of a reading that only a blunder can give."""
    tool = finding.test.tool
    if tool in {"voltmeter", "ammeter"}:
        other = [finding.value + _FAR]
    elif tool == "ohmmeter":
        other = [0.0, np.inf]
    else:
        # A lamp out, a fuse whole, a consumer dead; or all of it.
        other = [0.0, h.volts if tool == "test-lamp" else 1.0]
    return float(log_chance(h, finding, np.array(other)).min())


def slip_chances(h: Harness, belief: Belief) -> FloatArray:
    """Return the chance that each reading was a slip under each explanation.

    Returns
    -------
    ndarray of float, shape (n_findings, n_sets)
    """
    floor = np.array([log_floor(h, finding) for finding in belief.findings])
    out: FloatArray = np.exp(np.minimum(floor[:, None] - belief.log_likelihood, 0.0))
    return out


def slipped(h: Harness, belief: Belief) -> BoolArray:
    """Return which readings each explanation takes for slips.

    Returns
    -------
    ndarray of bool, shape (n_findings, n_sets)
    """
    out: BoolArray = slip_chances(h, belief) > SLIPPED
    return out
