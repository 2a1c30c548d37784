"""Bad contacts of sizes between those that every hunt begins with.

The findings share one unknown, the contact's resistance. What a test shows goes with it
as ``v = (v_0 + q v_open) / (1 + q)``, where `q` is the resistance over that of the rest
of the circuit; so between two sizes that were solved, ``log q`` is taken as straight in
the logarithm of the resistance. That only proposes a size: the proposed one is then
solved and weighed like any other hypothesis.
"""

from collections.abc import Sequence
from copy import copy
from dataclasses import dataclass

import numpy as np

from harness.circuit import FloatArray, IntArray
from harness.faults import BAD_CONTACT_OHM
from harness.findings import Finding
from harness.model import Harness
from harness.predictions import Predictions, log_chance
from harness.segments import Fault

STEPS = 61
SMALLEST_OHM, LARGEST_OHM = 0.1, 100.0
# A size between is proposed when it explains this much better than those solved.
BETTER_BY = 1.5
# Less likely than the best by more than this, no size is worth proposing.
WITHIN = 7.0
MOST_PROPOSED = 8
DECIMALS = 6
# Stands for an open circuit between figures.
VERY_MANY_OHM = 1e9
_CUT = {"open", "blown"}


@dataclass(frozen=True)
class _Contacts:
    """Rows of each contact that can be bad in sizes, and of the same contact open."""

    segments: tuple[str, ...]
    sized: IntArray
    opened: IntArray

    @classmethod
    def of(cls, faults: Sequence[Fault | None]) -> "_Contacts":
        row = {f: i for i, f in enumerate(faults) if f is not None}
        cut = {f.segment: i for f, i in row.items() if f.mode in _CUT and not f.moved}
        names = sorted({f.segment for f in row if f.mode == "resistive"} & cut.keys())
        sized = [
            [row[Fault(n, "resistive", r)] for r in BAD_CONTACT_OHM] for n in names
        ]
        return cls(
            tuple(names),
            np.array(sized, dtype=np.intp).reshape(-1, len(BAD_CONTACT_OHM)),
            np.array([cut[n] for n in names], dtype=np.intp),
        )


class Sizes:
    """What the findings say of every size of every bad contact."""

    def __init__(self, predictions: Predictions) -> None:
        self.predictions = predictions
        self.contacts = _Contacts.of(predictions.faults)
        self.ohm = np.geomspace(SMALLEST_OHM, LARGEST_OHM, STEPS)
        self.total = np.zeros((len(self.contacts.segments), STEPS))
        self.solved = np.zeros(self.contacts.sized.shape)

    def copy(self) -> "Sizes":
        """Return sizes that go on from here by themselves."""
        other = copy(self)
        other.total, other.solved = self.total.copy(), self.solved.copy()
        return other

    def add(self, h: Harness, finding: Finding, logs: FloatArray) -> None:
        """Take a finding in; `logs` is its log likelihood under every hypothesis."""
        shown = self.predictions.shown(finding.test)
        between = self._between(shown)
        self.total += log_chance(h, finding, between) - logs[0]
        self.solved += logs[self.contacts.sized] - logs[0]

    def _between(self, shown: FloatArray) -> FloatArray:
        """Return what a test would show for every size, shape (n_contacts, STEPS)."""
        sound = shown[0]
        at_open = shown[self.contacts.opened][:, None]
        at = shown[self.contacts.sized]
        with np.errstate(all="ignore"):
            q = np.where(
                np.isfinite(at_open), (at - sound) / (at_open - at), at - sound
            )
            logs = np.log(q)
        bent = ~np.isfinite(logs)
        log_ohm, wanted = np.log(BAD_CONTACT_OHM), np.log(self.ohm)
        at = np.where(np.isfinite(at), at, VERY_MANY_OHM)
        drawn = _straight(log_ohm, np.where(bent, 0.0, logs), wanted, slope=1.0)
        with np.errstate(all="ignore"):
            q = np.exp(drawn)
            law = np.where(
                np.isfinite(at_open), (sound + q * at_open) / (1 + q), sound + q
            )
        plain = _straight(log_ohm, at, wanted, slope=0.0)
        out: FloatArray = np.where(bent.any(axis=1)[:, None], plain, law)
        return out

    def proposed(self, log_prior: FloatArray, best: float) -> list[tuple[Fault, float]]:
        """Return bad contacts of other sizes, each with its log prior.

        Parameters
        ----------
        log_prior : ndarray of float, shape (n_hypotheses,)
        best : float
            Log weight of the best explanation so far, relative to that of nothing wrong
            being its prior.
        """
        if not self.contacts.segments:
            return []
        # Rounded, so that of sizes that do as well the least is taken.
        top = np.round(self.total, DECIMALS).argmax(axis=1)
        reached = self.total[np.arange(len(top)), top]
        prior = log_prior[self.contacts.sized]
        gain = reached - self.solved.max(axis=1)
        weight = np.round(reached + prior.max(axis=1), DECIMALS)
        wanted = np.flatnonzero((gain > BETTER_BY) & (weight > best - WITHIN))
        order = wanted[np.argsort(-weight[wanted], kind="stable")][:MOST_PROPOSED]
        return [
            (
                Fault(
                    self.contacts.segments[i],
                    "resistive",
                    float(f"{self.ohm[top[i]]:.2g}"),
                ),
                float(prior[i].max()),
            )
            for i in order.tolist()
        ]


def _straight(
    x: FloatArray, y: FloatArray, wanted: FloatArray, *, slope: float
) -> FloatArray:
    """Interpolate rows of `y` over `x`; beyond the ends go on with a slope."""
    place = np.clip(np.searchsorted(x, wanted) - 1, 0, len(x) - 2)
    share = (wanted - x[place]) / (x[place + 1] - x[place])
    inside = y[:, place] + share * (y[:, place + 1] - y[:, place])
    low = y[:, :1] + slope * (wanted - x[0])
    high = y[:, -1:] + slope * (wanted - x[-1])
    out: FloatArray = np.where(
        wanted < x[0], low, np.where(wanted > x[-1], high, inside)
    )
    return out
