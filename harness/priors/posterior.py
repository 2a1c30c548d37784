"""Rates of faults after what a shop's confirmed repairs teach.

The share of each kind and mode among all faults has a Dirichlet prior around the shares
that the default rates give on the loom in hand, worth so many repairs; each confirmed
repair adds one to its kind and mode. What is expected of the shares is the posterior
mean (Gelman et al., Bayesian Data Analysis, multinomial model; from memory)::

    (concentration * default share + count) / (concentration + all counts)

Shares are of a whole loom, not of one segment: a loom has more wires than lamps, and
the shop's repairs came from looms like it. What the loom in hand does not have is left
out of the count. Where repairs name their place, the same rule then shares a kind and
mode out among the places of the loom; what runs between places keeps its part.
"""

from collections.abc import Hashable, Mapping
from typing import TypeVar

import numpy as np

from harness.circuit import FloatArray
from harness.model import Harness
from harness.priors.learning import Learned
from harness.priors.segment_kinds import kind_of_segment, place_of_segment
from harness.segments import Mode, segments_of

Key = TypeVar("Key", bound=Hashable)
Way = tuple[str, Mode]
Spot = tuple[str, Mode, str]


def dirichlet_mean(
    shares: FloatArray, counts: FloatArray, concentration: float
) -> FloatArray:
    """Return the posterior mean of shares that have a Dirichlet prior.

    Parameters
    ----------
    shares : ndarray of float, shape (n,)
        Prior means, summing to one.
    counts : ndarray of float, shape (n,)
    concentration : float
        Sum of the prior's parameters: how many observations it is worth.

    Examples
    --------
    >>> dirichlet_mean(np.array([0.5, 0.5]), np.array([3.0, 0.0]), 1.0).tolist()
    [0.875, 0.125]
    """
    alpha = concentration * shares + counts
    out: FloatArray = alpha / alpha.sum()
    return out


def learned_rates(
    h: Harness, rates: Mapping[tuple[str, Mode], float], told: Learned
) -> dict[tuple[str, Mode], float]:
    """Return the rates of a harness after what was learned; their sum stays the same.

    Parameters
    ----------
    h : Harness
    rates : mapping of (segment, mode) to float
        Before; of the segments and modes that can happen on this harness.
    told : Learned
    """
    ways = {key: _way(h, key) for key in rates}
    spots = {key: _spot(h, key) for key in rates}
    of_way = _way_times(_sums(rates, ways), told)
    of_spot = _spot_times(_sums(rates, spots), told)
    return {
        key: rate * of_way[ways[key]] * of_spot[spots[key]]
        for key, rate in rates.items()
    }


def _way(h: Harness, key: tuple[str, Mode]) -> Way:
    return kind_of_segment(h, segments_of(h)[key[0]]), key[1]


def _spot(h: Harness, key: tuple[str, Mode]) -> Spot:
    return *_way(h, key), place_of_segment(h, segments_of(h)[key[0]]) or ""


def _sums(
    rates: Mapping[tuple[str, Mode], float], part_of: Mapping[tuple[str, Mode], Key]
) -> dict[Key, float]:
    sums: dict[Key, float] = {}
    for key, rate in rates.items():
        sums[part_of[key]] = sums.get(part_of[key], 0.0) + rate
    return sums


def _way_times(sums: Mapping[Way, float], told: Learned) -> dict[Way, float]:
    counts = dict.fromkeys(sums, 0.0)
    for row in told.history:
        if (row.kind, row.mode) in counts:
            counts[row.kind, row.mode] += row.count
    return _times(sums, counts, told.concentration_repairs)


def _spot_times(sums: Mapping[Spot, float], told: Learned) -> dict[Spot, float]:
    known = {(row.kind, row.mode, row.place): row.count for row in told.history}
    times = dict.fromkeys(sums, 1.0)
    for way in {spot[:2] for spot in sums}:
        placed = {spot: n for spot, n in sums.items() if spot[:2] == way and spot[2]}
        counts = {spot: known.get(spot, 0.0) for spot in placed}
        times |= _times(placed, counts, told.concentration_repairs)
    return times


def _times(
    sums: Mapping[Key, float], counts: Mapping[Key, float], concentration: float
) -> dict[Key, float]:
    """Return how many times its share before each share is after the counts."""
    if not any(counts.values()):
        return dict.fromkeys(sums, 1.0)
    shares = np.array(list(sums.values()))
    shares /= shares.sum()
    after = dirichlet_mean(shares, np.array(list(counts.values())), concentration)
    return dict(zip(sums, (after / shares).tolist(), strict=True))
