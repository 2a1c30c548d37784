"""Which faults hide which: an open feed hides all that is bad behind it.

A fault shows by the current that its branch carries, or, for one that joins two points,
by the volts between them. Where another fault takes most of that away, a test made with
both shows what it would show with the other alone.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from harness.circuit import BoolArray, FloatArray, IntArray
from harness.edit_arrays import EditArrays, edit_arrays
from harness.kinds import Battery
from harness.model import Harness
from harness.predictions import predictions_for
from harness.rig import Rig
from harness.segments import Fault

HIDDEN_SHARE = 0.3
DRIVEN_V = 1e-9
# Faults looked at a time, for all that may hide them.
AT_A_TIME = 256


@dataclass(frozen=True)
class Masking:
    """Which single faults hide which in one rig.

    Kept as bits, once by the one that hides and once by the one that is hidden.

    Attributes
    ----------
    rows : ndarray of intp
        Hypotheses that show at all in this rig; only they can be hidden.
    """

    rows: IntArray
    count: int
    by_hiding: NDArray[np.uint8]
    by_hidden: NDArray[np.uint8]

    @classmethod
    def of(cls, rows: IntArray, hides: BoolArray) -> "Masking":
        """Keep which hypotheses hide which, a row for each that hides."""
        turned = np.packbits(np.ascontiguousarray(hides.T), axis=1)
        return cls(rows, len(hides), np.packbits(hides, axis=1), turned)

    def hides(self, some: IntArray, others: IntArray) -> BoolArray:
        """Return whether each of some hides each of others, a row for each of some."""
        return self._unpacked(self.by_hiding[some])[:, others]

    def hidden(self, some: IntArray, others: IntArray) -> BoolArray:
        """Return whether each of some is hidden by each of others."""
        return self._unpacked(self.by_hidden[some])[:, others]

    def _unpacked(self, bits: NDArray[np.uint8]) -> BoolArray:
        return np.unpackbits(bits, axis=1, count=self.count).view(np.bool_)


@lru_cache(maxsize=64)
def masking(h: Harness, rig: Rig) -> Masking:
    """Return which single faults of a harness hide which in a rig."""
    predictions = predictions_for(h)
    table = predictions.table(rig)
    made = edit_arrays(h, table.net, predictions.faults)
    volts = table.node_volts()
    count = len(predictions.faults)
    driven = _drop(volts[:1], made, np.arange(count))[0]
    shows = np.flatnonzero((driven > DRIVEN_V) & ~_sources(h, predictions.faults))
    hides = np.zeros((count, count), dtype=np.bool_)
    for start in range(0, len(shows), AT_A_TIME):
        rows = shows[start : start + AT_A_TIME]
        with np.errstate(invalid="ignore"):
            drop = _drop(volts, made, rows)
            hides[:, rows] = drop < HIDDEN_SHARE * driven[rows]
    return Masking.of(shows, hides)


def _drop(volts: FloatArray, made: EditArrays, rows: IntArray) -> FloatArray:
    """Return the volts over the first edit of some faults, for many operating points.

    Returns
    -------
    ndarray of float, shape (len(volts), len(rows))
    """
    out = np.zeros((len(volts), len(rows)))
    for corner in range(made.node.shape[2]):
        weight = made.weight[rows, 0, corner]
        some = np.flatnonzero(weight)
        out[:, some] += volts[:, made.node[rows[some], 0, corner]] * weight[some]
    return np.abs(out)


def _sources(h: Harness, faults: tuple[Fault | None, ...]) -> BoolArray:
    """Return which faults are of a battery: its volts do not say what it carries."""
    batteries = {d.id for d in h.devices.values() if isinstance(d.spec, Battery)}
    return np.array(
        [f is not None and f.segment.partition(":")[2] in batteries for f in faults]
    )
