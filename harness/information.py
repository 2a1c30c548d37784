"""How much a test would tell, in bits, and which hypotheses it cannot tell apart."""

import numpy as np
from numpy.typing import NDArray

from harness.circuit import FloatArray
from harness.likelihood import BLUNDER_METER

# Two meter readings closer than this many widths are not told apart.
APART = 4.0
# Two chances of a word differing by less than this are not told apart.
WORDS_APART = 0.5


def entropy_bits(p: FloatArray, axis: int = 0) -> FloatArray:
    """Return the entropy along an axis; nothing counts as nothing."""
    safe = np.where(p > 0, p, 1.0)
    out: FloatArray = -(p * np.log2(safe)).sum(axis=axis)
    return out


def gain_of_words(chances: FloatArray, weight: FloatArray) -> FloatArray:
    """Return the expected information of tests that answer in words.

    Parameters
    ----------
    chances : ndarray of float, shape (n_words, m, n_tests)
        The chance of each word under each of m hypotheses.
    weight : ndarray of float, shape (m,)
        Probabilities of the hypotheses.

    Returns
    -------
    ndarray of float, shape (n_tests,), bits

    Examples
    --------
    A test with 10 % error each way on an even question gives 0.531 bit (G10):

    >>> e = 0.1
    >>> chances = np.array([[[1 - e], [e]], [[e], [1 - e]]])
    >>> round(float(gain_of_words(chances, np.array([0.5, 0.5]))[0]), 4)
    0.531
    """
    expected = np.einsum("m,cmt->ct", weight, chances)
    noise = np.einsum("m,mt->t", weight, entropy_bits(chances))
    out: FloatArray = np.maximum(entropy_bits(expected) - noise, 0.0)
    return out


def clusters(scaled: FloatArray, apart: float) -> NDArray[np.intp]:
    """Give numbers to the groups into which each test's values fall, lowest first.

    Parameters
    ----------
    scaled : ndarray of float, shape (m, n_tests)
        Values on a scale of widths; NaN goes with the middle of the rest.
    apart : float
        A gap wider than this parts two groups.

    Returns
    -------
    ndarray of intp, shape (m, n_tests)
    """
    if not len(scaled):
        return np.zeros(scaled.shape, dtype=np.intp)
    unknown = np.isnan(scaled)
    if unknown.any():
        known = np.where(unknown, 0.0, scaled)
        count = np.maximum((~unknown).sum(axis=0), 1)
        scaled = np.where(unknown, (known.sum(axis=0) / count)[None], scaled)
    order = np.argsort(scaled, axis=0, kind="stable")
    in_order = np.take_along_axis(scaled, order, axis=0)
    steps = np.diff(in_order, axis=0, prepend=in_order[:1]) > apart
    labels = np.cumsum(steps, axis=0)
    out = np.empty(labels.shape, dtype=np.intp)
    np.put_along_axis(out, order, labels, axis=0)
    return out


def gain_of_groups(groups: NDArray[np.intp], weight: FloatArray) -> FloatArray:
    """Return the expected information of meter tests whose values fall in groups.

    A blunder lands in any group alike. Values within a group count as equal, so that
    the figure is never more than what the reading tells.

    Parameters
    ----------
    groups : ndarray of intp, shape (m, n_tests)
    weight : ndarray of float, shape (m,)
    """
    count = groups.max(axis=0) + 1
    most = int(count.max(initial=1))
    mass = np.zeros((most, groups.shape[1]))
    columns = np.broadcast_to(np.arange(groups.shape[1]), groups.shape)
    np.add.at(mass, (groups, columns), np.broadcast_to(weight[:, None], groups.shape))
    exists = np.arange(most)[:, None] < count[None, :]
    stray = BLUNDER_METER / count
    expected = np.where(exists, (1.0 - BLUNDER_METER) * mass + stray, 0.0)
    right = 1.0 - BLUNDER_METER + stray
    noise = -(right * np.log2(right) + (count - 1) * stray * np.log2(stray))
    gain = entropy_bits(expected) - noise
    out: FloatArray = np.where(count > 1, np.maximum(gain, 0.0), 0.0)
    return out
