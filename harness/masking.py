"""Which faults hide which: an open feed hides all that is bad behind it.

A fault shows by the current that its branch carries, or, for one that joins two points,
by the volts between them. Where another fault takes most of that away, a test made with
both shows what it would show with the other alone.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from harness.circuit import BoolArray, FloatArray, IntArray
from harness.edit_arrays import EditArrays, edit_arrays
from harness.kinds import Battery
from harness.model import Harness
from harness.predictions import predictions_for
from harness.rig import Rig
from harness.segments import Fault

HIDDEN_SHARE = 0.3
DRIVEN_V = 1e-9


@dataclass(frozen=True)
class Masking:
    """Which single faults hide which in one rig.

    Attributes
    ----------
    rows : ndarray of intp, shape (n,)
        Hypotheses that show at all in this rig.
    hides : ndarray of bool, shape (n_hypotheses, n)
        Whether each hypothesis hides each of those.
    """

    rows: IntArray
    hides: BoolArray


@lru_cache(maxsize=64)
def masking(h: Harness, rig: Rig) -> Masking:
    """Return which single faults of a harness hide which in a rig."""
    predictions = predictions_for(h)
    table = predictions.table(rig)
    made = edit_arrays(h, table.net, predictions.faults)
    volts = table.node_volts()
    driven = _drop(volts[:1], made, np.arange(len(made.kind)))[0]
    rows = np.flatnonzero((driven > DRIVEN_V) & ~_sources(h, predictions.faults))
    with np.errstate(invalid="ignore"):
        hides = _drop(volts, made, rows) < HIDDEN_SHARE * driven[rows]
    return Masking(rows, hides)


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
