"""How likely a reading was a plain slip, were some explanation true.

A reading that no honest instrument would show is as likely as the blunders that may
give it (`likelihood.py`). Where that is most of its likelihood, it was a slip.
"""

from collections.abc import Sequence

import numpy as np

from harness.circuit import BoolArray, FloatArray
from harness.findings import Finding
from harness.model import Harness
from harness.predictions import log_chance

# From here on an explanation is said to take a reading for a slip.
SLIPPED = 0.5
_FAR = 1e7


def log_floor(h: Harness, findings: Sequence[Finding]) -> FloatArray:
    """Return the log likelihoods of readings that only a blunder can give."""
    return np.array([_floor(h, finding) for finding in findings])


def _floor(h: Harness, finding: Finding) -> float:
    tool = finding.test.tool
    if tool in {"voltmeter", "ammeter"}:
        other = [finding.value + _FAR]
    elif tool == "ohmmeter":
        other = [0.0, np.inf]
    else:
        # A lamp dark or lit, a fuse whole or blown, a consumer dead or at work.
        other = [0.0, h.volts if tool == "test-lamp" else 1.0]
    return float(log_chance(h, finding, np.array(other)).min())


def are_slips(
    h: Harness, findings: Sequence[Finding], log_likelihood: FloatArray
) -> BoolArray:
    """Return which readings each explanation takes for slips.

    Parameters
    ----------
    log_likelihood : ndarray of float, shape (n_findings, n_explanations)

    Returns
    -------
    ndarray of bool, shape (n_findings, n_explanations)
    """
    floor = log_floor(h, findings)[:, None]
    out: BoolArray = np.exp(np.minimum(floor - log_likelihood, 0.0)) > SLIPPED
    return out
