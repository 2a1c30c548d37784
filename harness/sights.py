"""Some nodes of a factorised network: all that is looked at."""

from dataclasses import dataclass

import numpy as np

from harness.bases import Base
from harness.circuit import FloatArray, IntArray


@dataclass(frozen=True)
class Sight:
    """Some nodes of a base, those that are looked at.

    Attributes
    ----------
    nodes : ndarray of intp, shape (n_seen,)
    at : ndarray of intp, shape (n_nodes,)
        Where each node stands among them, -1 where it is not seen.
    near_ohm : ndarray of float, shape (n_nodes, n_seen)
    lamp_columns : ndarray of float, shape (n_seen, n_lamps)
        Volts for an ampere through each filament's ends.
    """

    base: Base
    nodes: IntArray
    at: IntArray
    near_ohm: FloatArray
    lamp_columns: FloatArray

    @classmethod
    def of(cls, base: Base, nodes: IntArray | None = None) -> "Sight":
        """Return a sight of some nodes, of all unless given."""
        count, net = len(base.net.nodes), base.net
        seen = np.arange(count, dtype=np.intp) if nodes is None else nodes
        at = np.full(count, -1, dtype=np.intp)
        at[seen] = np.arange(len(seen))
        near = base.near_ohm if nodes is None else base.near_ohm[:, seen]
        columns = (near[net.a[base.lamps]] - near[net.b[base.lamps]]).T
        return cls(base, seen, at, near, columns)

    def across_lamps(self, columns: FloatArray) -> FloatArray:
        """Take node quantities (last axis) to differences over the filaments."""
        net, lamps = self.base.net, self.base.lamps
        difference: FloatArray = (
            columns[..., self.at[net.a[lamps]]] - columns[..., self.at[net.b[lamps]]]
        )
        return difference
