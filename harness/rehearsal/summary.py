"""What a rehearsal comes to: weighted means, and whether probabilities hold."""

from collections.abc import Sequence

import numpy as np

BINS = 10


def weighted_mean(values: Sequence[float], weights: Sequence[float]) -> float:
    """Return a mean weighted by how likely each hunt is."""
    return float(np.average(values, weights=weights))


def calibration_error(
    stated: Sequence[tuple[float, bool]], weights: Sequence[float]
) -> float:
    """Return the expected calibration error of stated probabilities.

    They fall into ten bins of equal width; of each bin the mean stated probability is
    held against how often it came true, and the differences are averaged by the weight
    of the bins (Naeini et al., AAAI 2015; from memory).
    """
    p = np.array([value for value, _ in stated])
    hit = np.array([float(is_true) for _, is_true in stated])
    w = np.asarray(weights, dtype=np.float64)
    w = w / w.sum()
    which = np.minimum((p * BINS).astype(int), BINS - 1)
    return float(
        sum(
            abs(float((w * (p - hit))[which == b].sum()))
            for b in range(BINS)
            if (which == b).any()
        )
    )
