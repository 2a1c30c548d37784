"""The source that an instrument sees between two points, for many sets of faults.

Whatever hangs between the two, the network is volts `open_v` behind `inner_ohm`; what
the instrument's current does elsewhere follows from the same columns.
"""

from dataclasses import dataclass

import numpy as np

from harness.circuit import FloatArray, IntArray
from harness.groups import Group


@dataclass(frozen=True)
class Relit:
    """What some filaments draw more with an instrument in, for some sets and pairs.

    Attributes
    ----------
    row, pair : ndarray of intp, shape (n,)
    which : ndarray of intp, shape (n_lamps_moved,)
    amps : ndarray of float, shape (n, n_lamps_moved)
    """

    row: IntArray
    pair: IntArray
    which: IntArray
    amps: FloatArray


@dataclass(frozen=True)
class Between:
    """What some sets of a group show between some pairs of points.

    Attributes
    ----------
    open_v, inner_ohm : ndarray of float, shape (m, n_pairs)
        The source that an instrument sees; infinite ohms where nothing joins the two.
    share : ndarray of float, shape (m, n_terms, n_pairs)
        Volts between the two for an ampere at each of the changes.
    """

    group: Group
    inside: IntArray
    probe: IntArray
    clip: IntArray
    open_v: FloatArray
    inner_ohm: FloatArray
    share: FloatArray

    @classmethod
    def of(
        cls, group: Group, inside: IntArray, probe: IntArray, clip: IntArray
    ) -> "Between":
        """Return what the sets `inside` a group show between pairs of nodes."""
        near_ohm, at = group.base.near_ohm, group.sight.at
        p, c = at[probe], at[clip]
        near = near_ohm[probe, probe] + near_ohm[clip, clip] - 2 * near_ohm[probe, clip]
        change = group.change
        z = change.z_ohm[inside]
        share = z[:, :, p] - z[:, :, c]
        kappa = change.kappa_s[inside]
        inner = near[None] - np.einsum("mt,mtp->mp", kappa, share**2)
        island = change.island[inside]
        apart = island[:, p] != island[:, c]
        inner = np.where(apart, np.inf, np.maximum(inner, 0.0))
        volts = group.volts[inside]
        return cls(group, inside, probe, clip, volts[:, p] - volts[:, c], inner, share)

    @property
    def z_ohm(self) -> FloatArray:
        """The columns of the changes, shape (m, n_terms, n_seen)."""
        return self.group.change.z_ohm[self.inside]

    @property
    def kappa_s(self) -> FloatArray:
        """The weights of the changes, shape (m, n_terms)."""
        return self.group.change.kappa_s[self.inside]

    def with_lamps(self) -> FloatArray:
        """Return the volts between each pair for an ampere through each filament.

        Returns
        -------
        ndarray of float, shape (m, n_pairs, n_lamps)
        """
        sight = self.group.sight
        columns = sight.lamp_columns
        at_pair = columns[sight.at[self.probe]] - columns[sight.at[self.clip]]
        lamp_z = sight.across_lamps(self.z_ohm)
        out: FloatArray = at_pair[None] - np.einsum(
            "mtp,mtl->mpl", self.kappa_s[:, :, None] * self.share, lamp_z
        )
        return out

    def drop_with(self, k: int, amps: FloatArray, relit: Relit | None) -> FloatArray:
        """Return the volts over a branch while an instrument draws a current.

        Parameters
        ----------
        k : int
        amps : ndarray of float, shape (m, n_pairs)
        relit : Relit or None
            What filaments draw more then.
        """
        net, at = self.group.base.net, self.group.sight.at
        a, b = int(net.a[k]), int(net.b[k])
        before = self.group.drops(np.array([k]))[self.inside]
        near = self.group.base.near_ohm
        column = near[a] - near[b]
        z = self.z_ohm
        own = self.kappa_s * (z[:, :, at[a]] - z[:, :, at[b]])
        coupling = (column[self.probe] - column[self.clip])[None] - np.einsum(
            "mt,mtp->mp", own, self.share
        )
        drop = before - coupling * amps
        if relit is not None:
            sight = self.group.sight
            at_lamps = sight.lamp_columns[at[a]] - sight.lamp_columns[at[b]]
            with_lamps = at_lamps[None] - np.einsum(
                "mt,mtl->ml", own, sight.across_lamps(z)
            )
            drawn = with_lamps[relit.row][:, relit.which] * relit.amps
            drop[relit.row, relit.pair] -= drawn.sum(axis=1)
        out: FloatArray = np.where(
            np.isinf(self.inner_ohm), before + self._shift(a, b), drop
        )
        return out

    def _shift(self, a: int, b: int) -> FloatArray:
        """Return what a branch's volts gain when two islands are tied together."""
        net, at = self.group.base.net, self.group.sight.at
        island = self.group.change.island[self.inside]
        reference = self.group.base.island[net.reference]
        one, other = island[:, at[self.probe]], island[:, at[self.clip]]
        moves_one = (one != reference) & ((other == reference) | (one > other))
        moving = np.where(moves_one, one, other)
        shift = np.where(moves_one, -self.open_v, self.open_v)
        ends = (island[:, at[end], None] == moving for end in (a, b))
        at_a, at_b = (end.astype(np.float64) for end in ends)
        out: FloatArray = shift * (at_a - at_b)
        return out
