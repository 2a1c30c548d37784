"""What each reading of a test would mean, its words or the bands of its meter."""

from collections.abc import Callable
from typing import Any

import numpy as np
from numpy.typing import NDArray

from harness.circuit import FloatArray
from harness.findings import EYE_READS, FUSE_READS, LAMP_READS, Test, is_fuse
from harness.likelihood import eye_chances, fuse_chances, lamp_chances
from harness.model import Harness

# An outcome less likely than this is left out of what a reading would mean.
LEAST_LIKELY = 0.004
BANDED = {"voltmeter": "v", "ohmmeter": "ohm", "ammeter": "a"}

# Takes the joint probabilities of an outcome and each hypothesis to words.
Means = Callable[[FloatArray], str]


def outcomes(
    h: Harness,
    test: Test,
    seen: tuple[FloatArray, NDArray[np.intp]],
    weight: FloatArray,
    means: Means,
) -> list[dict[str, Any]]:
    """Return every outcome with its probability and what it would mean.

    Parameters
    ----------
    h : Harness
    test : Test
    seen : (ndarray of float, ndarray of intp), each of shape (m,)
        What the test would show under each hypothesis, and the outcome that it leads
        to, numbered from the lowest reading.
    weight : ndarray of float, shape (m,)
        Probabilities of the hypotheses.
    means : callable
    """
    if test.tool in BANDED:
        return _bands(test, seen, weight, means)
    return _words(h, test, seen[0], weight, means)


def _words(
    h: Harness, test: Test, shown: FloatArray, weight: FloatArray, means: Means
) -> list[dict[str, Any]]:
    names: tuple[str, ...]
    if test.tool == "test-lamp":
        names, chances = LAMP_READS, lamp_chances(shown, h.volts)
    elif is_fuse(h, test.device):
        names, chances = FUSE_READS, fuse_chances(shown)
    else:
        names, chances = EYE_READS, eye_chances(shown)
    out = []
    for name, chance in zip(names, chances, strict=True):
        joint = chance * weight
        if joint.sum() >= LEAST_LIKELY:
            out.append(
                {
                    "reads": name,
                    "example": name,
                    "probability": float(joint.sum()),
                    "means": means(joint),
                }
            )
    return out


def _bands(
    test: Test,
    seen: tuple[FloatArray, NDArray[np.intp]],
    weight: FloatArray,
    means: Means,
) -> list[dict[str, Any]]:
    unit = BANDED[test.tool]
    shown, labels = seen
    groups = [
        (float(np.min(shown[inside])), float(np.max(shown[inside])), inside)
        for number in range(int(labels.max()) + 1)
        if (inside := labels == number).any()
    ]
    out = []
    for i, (_, _, inside) in enumerate(groups):
        joint = np.where(inside, weight, 0.0)
        if joint.sum() < LEAST_LIKELY:
            continue
        low = _round_between(groups[i - 1][1], groups[i][0]) if i else None
        high = (
            _round_between(groups[i][1], groups[i + 1][0])
            if i + 1 < len(groups)
            else None
        )
        typical = float(np.average(_finite(shown[inside]), weights=weight[inside]))
        is_open = bool(np.isinf(shown[inside]).all())
        out.append(
            {
                "reads": {f"from_{unit}": low, f"to_{unit}": high},
                "example": "open" if is_open else f"{round(typical, 2) + 0.0:g}",
                "probability": float(joint.sum()),
                "means": means(joint),
            }
        )
    return out


def _finite(values: FloatArray) -> FloatArray:
    out: FloatArray = np.minimum(np.nan_to_num(values, nan=0.0, posinf=1e6), 1e6)
    return out


def _round_between(low: float, high: float) -> float:
    """Return a round figure between two bands of readings."""
    if np.isinf(high):
        return float(f"{max(10.0 * low, 1e4):.1g}")
    middle = (low + high) / 2
    for digits in range(1, 5):
        rounded = float(f"{middle:.{digits}g}")
        if low < rounded < high:
            return rounded
    return float(middle)
