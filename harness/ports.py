"""Sets of faults as low-rank changes of a factorised network.

Putting conductance `d` between two points whose incidence is `w` changes the inverse
matrix ``Z`` to ``Z - kappa z z'`` with ``z = Z w``, ``kappa = d / (1 + d w'z)``.
Several edits are made one after another, each on what the last one left; what joins
comes before what cuts.

Two edits change which nodes hang together instead. A branch with no other way round it
cuts off an island: the inverse stands, the island's nodes get a label of their own. A
resistance between two islands joins them: with `c` the difference of the columns of its
ends, `s` its resistance to the held nodes and `e` the island joined on, the inverse
becomes ``Z - c c'/s + (s e - c)(s e - c)'/s``.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from harness.bases import NO_OTHER_WAY
from harness.circuit import BoolArray, FloatArray, IntArray
from harness.edit_arrays import CUT, HELD, NONE, SERIES, SHUNT, EditArrays
from harness.sights import Sight

__all__ = ["NO_OTHER_WAY", "Changes", "Sight", "changes"]


@dataclass(frozen=True)
class Changes:
    """What sets of faults do to a base, one row a set.

    Attributes
    ----------
    z_ohm : ndarray of float, shape (m, n_terms, n_seen)
    kappa_s : ndarray of float, shape (m, n_terms)
        The inverse is now ``near - sum of kappa z z'``.
    volts : ndarray of float, shape (m, n_seen)
        Node volts with the faults in; the filaments are still fixed as in the base,
        until the group that it belongs to has settled them.
    island : ndarray of int32, shape (m, n_seen)
        Equal for nodes that hang together.
    branch : ndarray of intp, shape (m, n_edits)
        Branches cut or changed, or -1.
    branch_s, branch_emf_v : ndarray of float, shape (m, n_edits)
        What they have become.
    intact : ndarray of bool, shape (m, n_lamps)
        False where a fault has broken that filament.
    """

    z_ohm: FloatArray
    kappa_s: FloatArray
    volts: FloatArray
    island: NDArray[np.int32]
    branch: IntArray
    branch_s: FloatArray
    branch_emf_v: FloatArray
    intact: BoolArray


class _Work:
    """The state of some rows while their edits are made.

    Columns are the nodes seen, then those of each edit of the row.
    """

    def __init__(self, sight: Sight, made: EditArrays) -> None:
        base = sight.base
        count = len(made.kind)
        self.sight = sight
        self.own = made.node.reshape(count, -1)
        self.seen = len(sight.nodes)
        self.volts = self._everywhere(base.volts)
        self.island = self._everywhere(base.island.astype(np.int32))
        self.z = np.zeros((count, 0, self.seen + self.own.shape[1]))
        self.kappa = np.zeros((count, 0))
        self.next_label = len(base.net.nodes)

    def _everywhere(self, values: np.ndarray) -> np.ndarray:
        base = self.sight
        shown = np.broadcast_to(values[base.nodes], (len(self.own), self.seen))
        return np.concatenate([shown, values[self.own]], axis=1)

    def column(self, node: IntArray, weight: FloatArray) -> FloatArray:
        """Return Z w as it now is, for each row's own incidence.

        Parameters
        ----------
        node, weight : ndarray, shape (m, 4)
        """
        near = self.sight.base.near_ohm
        seen = np.zeros((len(node), self.seen))
        own = np.zeros(self.own.shape)
        for corner in range(node.shape[1]):
            share = weight[:, corner, None]
            if share.any():
                seen += share * self.sight.near_ohm[node[:, corner]]
                own += share * near[node[:, corner, None], self.own]
        return np.concatenate([seen, own], axis=1)

    def less_terms(self, column: FloatArray, across: FloatArray) -> FloatArray:
        """Take what the terms so far have changed off a column.

        Parameters
        ----------
        column : ndarray of float, shape (m, n)
        across : ndarray of float, shape (m, n_terms)
            Each term's z over the ends of the edit.
        """
        if not self.kappa.shape[1]:
            return column
        out: FloatArray = column - np.einsum("mt,mtn->mn", self.kappa * across, self.z)
        return out

    def over(self, values: FloatArray, step: int, weight: FloatArray) -> FloatArray:
        """Take values at all columns to the difference over an edit's ends."""
        start = self.seen + 4 * step
        out: FloatArray = np.einsum(
            "...c,mc->m..." if values.ndim == 1 else "m...c,mc->m...",
            values[..., start : start + 4],
            weight,
        )
        return out

    def add(self, z: FloatArray, kappa: FloatArray) -> None:
        self.z = np.concatenate([self.z, z[:, None]], axis=1)
        self.kappa = np.concatenate([self.kappa, kappa[:, None]], axis=1)


def changes(sight: Sight, made: EditArrays) -> Changes:
    """Return what sets of faults do to a base.

    Parameters
    ----------
    sight : Sight
        Must see the ends of all filaments.
    made : EditArrays
    """
    base = sight.base
    net = base.net
    steps = made.kind.shape[1]
    work = _Work(sight, made)
    kind = made.kind.copy()
    k = np.maximum(made.branch, 0)
    conducts = base.on[k]
    # A contact that is shut anyway cannot be held shut; one that is open joins.
    kind[(kind == HELD) & conducts] = NONE
    kind[kind == HELD] = SHUNT
    kind[np.isin(kind, (SERIES, CUT)) & ~conducts] = NONE
    old_s, old_v = base.g_s[k], net.emf_v[k]
    with np.errstate(divide="ignore"):
        added = 1.0 / (1.0 / old_s + made.ohm)
    new_s = np.select([kind == CUT, kind == SERIES], [0.0, added], old_s)
    new_v = np.where(kind == SERIES, old_v * made.emf_ratio, old_v)
    for step in range(steps):
        _make(work, made, step, kind[:, step], (old_s, new_s, old_v, new_v))
    changed = np.isin(kind, (SERIES, CUT))
    broken = np.where(kind == CUT, made.branch, -1)
    intact = ~(broken[:, :, None] == base.lamps[None, None, :]).any(axis=1)
    return Changes(
        z_ohm=work.z[:, :, : work.seen],
        kappa_s=work.kappa,
        volts=work.volts[:, : work.seen],
        island=work.island[:, : work.seen],
        branch=np.where(changed, made.branch, -1),
        branch_s=new_s,
        branch_emf_v=new_v,
        intact=intact,
    )


def _make(
    work: _Work,
    made: EditArrays,
    step: int,
    kind: IntArray,
    branch: tuple[FloatArray, FloatArray, FloatArray, FloatArray],
) -> None:
    """Make one edit of every row."""
    if (kind == NONE).all():
        return
    old_s, new_s, old_v, new_v = (values[:, step] for values in branch)
    node, weight = made.node[:, step], made.weight[:, step]
    weight = np.where((kind == NONE)[:, None], 0.0, weight)
    across = work.over(work.z, step, weight)
    z = work.less_terms(work.column(node, weight), across)
    r = work.over(z, step, weight)
    drop = work.over(work.volts, step, weight)
    shunt = kind == SHUNT
    with np.errstate(divide="ignore"):
        d_s = np.where(shunt, 1.0 / made.ohm[:, step], new_s - old_s)
    d_s = np.where(kind == NONE, 0.0, d_s)
    d_a = np.where(shunt | (kind == NONE), 0.0, new_s * new_v - old_s * old_v)
    share = 1.0 + d_s * r
    start = work.seen + 4 * step
    label = work.island[:, start : start + 4]
    parts = shunt & (label[:, 0] != label[:, 2])
    cuts_off = (kind == CUT) & (share < NO_OTHER_WAY)
    joined = _joined(
        work, step, np.flatnonzero(parts), (z, r + made.ohm[:, step], drop)
    )
    _cut_off(work, z * old_s[:, None], np.flatnonzero(cuts_off), step)
    plain = ~parts & ~cuts_off & (kind != NONE)
    safe = np.where(plain, share, 1.0)
    kappa = np.where(plain, d_s / safe, 0.0)
    pushed = np.where(plain, d_a / safe - kappa * drop, 0.0)
    work.volts = work.volts + z * pushed[:, None]
    if joined is not None:
        first, second, kappa_joined = joined
        z = np.where(parts[:, None], first, z)
        kappa = np.where(parts, kappa_joined, kappa)
        work.add(z, kappa)
        work.add(second, -np.where(parts, kappa_joined, 0.0))
    elif plain.any():
        work.add(z, kappa)


def _cut_off(work: _Work, share: FloatArray, rows: IntArray, step: int) -> None:
    """Give the far side of a branch that nothing else joins a label of its own."""
    if not rows.size:
        return
    start = work.seen + 4 * step
    island = work.island[rows]
    far = np.abs(share[rows]) > 0.5  # noqa: PLR2004 - it is nothing or one
    far &= island == island[:, start, None]
    work.island = work.island.copy()
    work.island[rows] = np.where(far, work.next_label, island)
    work.next_label += 1
    # As the solver has it: an island stands at zero volts at its first node.
    volts = work.volts[rows]
    first = volts[np.arange(len(rows)), far[:, : work.seen].argmax(axis=1)]
    work.volts = work.volts.copy()
    work.volts[rows] = volts - far * first[:, None]


def _joined(
    work: _Work,
    step: int,
    rows: IntArray,
    found: tuple[FloatArray, FloatArray, FloatArray],
) -> tuple[FloatArray, FloatArray, FloatArray] | None:
    """Join two islands by a resistance; return two terms and their kappa.

    `found` is the edit's column, its resistance to the held nodes and its volts.
    """
    if not rows.size:
        return None
    z, s, drop = (values[rows] for values in found)
    start = work.seen + 4 * step
    reference = work.sight.base.island[work.sight.base.net.reference]
    one, other = work.island[rows, start], work.island[rows, start + 2]
    # The island that is joined on keeps its volts but for one shift: never the
    # reference's own, else the one whose first node comes later.
    moves_one = (one != reference) & ((other == reference) | (one > other))
    sign = np.where(moves_one, 1.0, -1.0)[:, None]
    moving, staying = np.where(moves_one, [one, other], [other, one])
    e = (work.island[rows] == moving[:, None]).astype(np.float64)
    c = z * sign
    work.volts = work.volts.copy()
    work.volts[rows] -= e * drop[:, None] * sign
    work.island = work.island.copy()
    work.island[rows] = np.where(e > 0, staying[:, None], work.island[rows])
    first, second = np.zeros_like(work.volts), np.zeros_like(work.volts)
    kappa = np.zeros(len(work.volts))
    first[rows], second[rows] = c, s[:, None] * e - c
    kappa[rows] = 1.0 / s
    return first, second, kappa
