"""Which pairs of faults are worth weighing exactly.

A loom of 120 wires has a million pairs, nearly all of them hopeless. What a finding
says of a pair is estimated from what it says of its members. Where one hides the other
(`masking.py`), it is what the finding says of that one. Else, where the bike reads as
it should, the worse explanation counts, and of a symptom the better one. For members
that do not touch the same reading the estimate is exact. Pairs whose two branches are
each other's only other way are not seen like that; they are listed apart
(`only_together`).

With ``a`` the log likelihood of a finding under each single fault less that of nothing
wrong, the estimate for a pair is ``a_i + a_j`` less what both share, and only faults
that a finding touches share anything.
"""

from copy import copy
from functools import lru_cache

import numpy as np

from harness.bases import factorise
from harness.circuit import BoolArray, FloatArray, IntArray
from harness.consumers import ordinary_rigs
from harness.findings import Finding
from harness.masking import masking
from harness.model import Harness
from harness.network import compile_network
from harness.ports import NO_OTHER_WAY
from harness.predictions import Predictions
from harness.rig import Rig
from harness.segments import Fault
from harness.solver import solve_network

TOUCHED = 1e-6
CARRIES_A = 1e-4
# Of two branches the share that a third way would leave.
NO_OTHER_WAY_TOGETHER = 0.02


class Screen:
    """Estimates for all pairs of the single faults of a harness, finding by finding.

    Parameters
    ----------
    faults : tuple of Fault or None
    log_prior : ndarray of float, shape (n_hypotheses,)
    beside : float
        What a further fault adds to the sum of the log priors.
    """

    def __init__(
        self, predictions: Predictions, log_prior: FloatArray, beside: float
    ) -> None:
        self.predictions = predictions
        self.faults = predictions.faults
        self.log_prior = log_prior
        self.beside = beside
        self.gain = np.zeros(len(self.faults))
        self.most_gain = np.zeros(len(self.faults))
        self._overlap = np.zeros((len(self.faults),) * 2, dtype=np.float32)
        self._allowed = _can_pair(predictions)
        self._moving = np.array([f is not None and f.moved for f in self.faults])
        self.any_moving = False

    def copy(self) -> "Screen":
        """Return a screen that goes on from here by itself."""
        other = copy(self)
        other.gain, other.most_gain = self.gain.copy(), self.most_gain.copy()
        other._overlap = self._overlap.copy()  # noqa: SLF001 - its own class
        return other

    def add(self, logs: FloatArray, most: FloatArray, finding: Finding) -> None:
        """Take in what a finding says of every single fault.

        Parameters
        ----------
        logs : ndarray of float, shape (n_hypotheses,)
        most : ndarray of float, shape (n_hypotheses,)
            What it would say at most, were the reading a little off: a second fault
            takes load off the battery, or adds some.
        finding : Finding
        """
        self.any_moving |= finding.moving
        a = (logs - logs[0]).astype(np.float32)
        self.gain += logs - logs[0]
        self.most_gain += most - logs[0]
        rows = np.flatnonzero(np.abs(a) > TOUCHED)
        part = a[rows]
        one, other = part[:, None], part[None, :]
        together = np.clip(one + other, np.minimum(one, other), np.maximum(one, other))
        shared = one + other - together
        hides = self._hides(finding.test.rig, rows)
        # Where each hides the other, either is enough for what is seen.
        shared = np.where(
            hides & ~hides.T, other, np.where(hides.T & ~hides, one, shared)
        )
        shared = np.where(hides & hides.T, np.minimum(one, other), shared)
        self._overlap[np.ix_(rows, rows)] += shared

    def _hides(self, rig: Rig, rows: IntArray) -> BoolArray:
        """Return whether the first of each two rows hides the second in a rig."""
        found = masking(self.predictions.h, rig)
        place = np.full(len(self.faults), -1, dtype=np.intp)
        place[found.rows] = np.arange(len(found.rows))
        at = place[rows]
        out: BoolArray = found.hides[np.ix_(rows, np.maximum(at, 0))]
        return out & (at >= 0)[None, :]

    def weights(self) -> FloatArray:
        """Return the estimated log weight of every pair, float32, -inf for none.

        Relative to the weight of nothing wrong being its prior; symmetric.
        """
        return self._weights(self.gain)

    def promises(self) -> FloatArray:
        """Return what every pair may weigh at most, as `weights`."""
        gain = self.most_gain
        if not self.any_moving:
            # Nothing that was found can show a contact that opens only when moved.
            gain = np.where(self._moving, -np.inf, gain)
        return self._weights(gain)

    def _weights(self, gain: FloatArray) -> FloatArray:
        own = (self.log_prior + gain).astype(np.float32)
        out = own[:, None] + (own + np.float32(self.beside))[None, :]
        out -= self._overlap
        out[~self._allowed] = -np.inf
        weights: FloatArray = out
        return weights


@lru_cache(maxsize=4)
def _allowed_for(faults: tuple[Fault | None, ...]) -> BoolArray:
    rows: dict[str, list[int]] = {}
    for i, fault in enumerate(faults):
        for segment in fault.segments if fault is not None else ():
            rows.setdefault(segment, []).append(i)
    allowed = np.ones((len(faults),) * 2, dtype=bool)
    allowed[0] = allowed[:, 0] = False
    for same in rows.values():
        allowed[np.ix_(same, same)] = False
    return allowed


def _can_pair(predictions: Predictions) -> BoolArray:
    """Return which hypotheses can be true together: those of different segments."""
    return _allowed_for(predictions.faults)


@lru_cache(maxsize=8)
def only_together(h: Harness) -> tuple[tuple[str, str], ...]:
    """Return pairs of segments that are each other's only other way in some rig.

    Opening either leaves the current a way round; opening both leaves none. Two earths
    side by side are such a pair.
    """
    found: set[tuple[str, str]] = set()
    for rig in ordinary_rigs(h):
        net = compile_network(h, rig)
        base = factorise(net, solve_network(net).on.tobytes())
        k = np.flatnonzero(base.on)
        columns = base.near_ohm[net.a[k]] - base.near_ohm[net.b[k]]
        r = columns[:, net.a[k]] - columns[:, net.b[k]]
        scaled = base.g_s[k][:, None] * r
        other_way = 1.0 - np.diag(scaled)
        free = other_way > NO_OTHER_WAY
        alone = other_way[:, None] * other_way[None, :]
        closed = alone - scaled * scaled.T < NO_OTHER_WAY_TOGETHER * alone
        closed &= free[:, None] & free[None, :]
        # Two in one path are each other's only way as well, yet opening either is
        # enough: what counts is that each still carries current with the other open.
        amps = base.g_s[k] * (
            base.volts[net.a[k]] - base.volts[net.b[k]] - net.emf_v[k]
        )
        with np.errstate(divide="ignore", invalid="ignore"):
            carried = amps[:, None] + scaled * (amps / other_way)[None, :]
        live = np.abs(carried) > CARRIES_A
        closed &= live & live.T
        for i, j in np.argwhere(np.triu(closed, 1)).tolist():
            names = sorted((net.segments[int(k[i])], net.segments[int(k[j])]))
            found.add((names[0], names[1]))
    return tuple(sorted(found))


def best_pairs(weights: FloatArray, least: float, most: int) -> IntArray:
    """Return the heaviest pairs, at most so many, none lighter than `least`.

    Returns
    -------
    ndarray of intp, shape (n, 2)
        First member before second; heaviest first, then by members.
    """
    upper = np.triu(weights > least, 1)
    i, j = np.nonzero(upper)
    order = np.lexsort((j, i, -weights[i, j]))[:most]
    return np.stack([i[order], j[order]], axis=1)
