"""The edits of many faults, or sets of faults, as arrays of one shape.

Every edit is a change of conductance between two points. A point is a node, or half of
either end of a wire for its middle, so an edit has up to four nodes with weights.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from harness.circuit import FloatArray, IntArray, Network
from harness.edits import Cut, Edit, Held, Series, Shunt, edits
from harness.model import Harness
from harness.segments import Fault

SHUNT, HELD, SERIES, CUT, NONE = range(5)
_MOST_EDITS = 4


@dataclass(frozen=True)
class EditArrays:
    """Edits of many hypotheses, one row each, in the order in which they are made.

    Attributes
    ----------
    kind, branch : ndarray of intp, shape (m, n_edits)
        One of the constants above; the branch concerned, or -1.
    ohm, emf_ratio : ndarray of float, shape (m, n_edits)
        The resistance joined or added (middles' own share included).
    node : ndarray of intp, shape (m, n_edits, 4)
    weight : ndarray of float, shape (m, n_edits, 4)
    middle : ndarray of intp, shape (m, n_edits, 2)
        The branches whose middles a resistance joins, or -1.
    """

    kind: IntArray
    branch: IntArray
    ohm: FloatArray
    emf_ratio: FloatArray
    node: IntArray
    weight: FloatArray
    middle: IntArray

    def rows(self, rows: IntArray) -> "EditArrays":
        """Return some rows, without columns that none of them needs."""
        needed = _columns_needed(self.kind[rows])
        return EditArrays(
            self.kind[rows, :needed],
            self.branch[rows, :needed],
            self.ohm[rows, :needed],
            self.emf_ratio[rows, :needed],
            self.node[rows, :needed],
            self.weight[rows, :needed],
            self.middle[rows, :needed],
        )

    def with_more(self, more: "EditArrays") -> "EditArrays":
        """Return these rows and then more of them."""
        return EditArrays(
            np.concatenate([self.kind, more.kind]),
            np.concatenate([self.branch, more.branch]),
            np.concatenate([self.ohm, more.ohm]),
            np.concatenate([self.emf_ratio, more.emf_ratio]),
            np.concatenate([self.node, more.node]),
            np.concatenate([self.weight, more.weight]),
            np.concatenate([self.middle, more.middle]),
        )

    def together(self, members: IntArray) -> "EditArrays":
        """Return the edits of sets of faults.

        Parameters
        ----------
        members : ndarray of intp, shape (m, n_members)
            Rows of these arrays. What joins comes first, what cuts last.
        """
        count = len(members)
        kind = self.kind[members].reshape(count, -1)
        order = np.argsort(kind, axis=1, kind="stable")
        order = order[:, : _columns_needed(kind)]

        def put(values: np.ndarray) -> np.ndarray:
            flat = values[members].reshape(count, kind.shape[1], *values.shape[2:])
            index = order.reshape(*order.shape, *(1,) * (flat.ndim - 2))
            return np.take_along_axis(flat, index, axis=1)

        return EditArrays(
            put(self.kind),
            put(self.branch),
            put(self.ohm),
            put(self.emf_ratio),
            put(self.node),
            put(self.weight),
            put(self.middle),
        )


def edits_of_nothing() -> EditArrays:
    """Return one row without edits: the healthy bike."""
    none = np.zeros((1, 0))
    return EditArrays(
        none.astype(np.intp),
        none.astype(np.intp),
        none,
        none,
        np.zeros((1, 0, 4), dtype=np.intp),
        np.zeros((1, 0, 4)),
        np.zeros((1, 0, 2), dtype=np.intp),
    )


def _columns_needed(kind: IntArray) -> int:
    return int((kind != NONE).sum(axis=1).max(initial=0))


def edit_arrays(h: Harness, net: Network, faults: Sequence[Fault | None]) -> EditArrays:
    """Return the edits of every fault; a row of none for None."""
    return arrays_of(net, [edits(h, net, f) if f is not None else () for f in faults])


def arrays_of(net: Network, rows: Sequence[Sequence[Edit]]) -> EditArrays:
    """Return edits, at most four a row, as arrays."""
    shape = (len(rows), _MOST_EDITS)
    out = EditArrays(
        kind=np.full(shape, NONE, dtype=np.intp),
        branch=np.full(shape, -1, dtype=np.intp),
        ohm=np.zeros(shape),
        emf_ratio=np.ones(shape),
        node=np.zeros((*shape, 4), dtype=np.intp),
        weight=np.zeros((*shape, 4)),
        middle=np.full((*shape, 2), -1, dtype=np.intp),
    )
    for row, made in enumerate(rows):
        for column, edit in enumerate(made):
            _write(net, out, (row, column), edit)
    return out


def _write(net: Network, out: EditArrays, at: tuple[int, int], edit: Edit) -> None:
    match edit:
        case Shunt(one, other, ohm):
            out.kind[at], out.ohm[at] = SHUNT, ohm
            _point(net, out, at, 0, one, 1.0)
            _point(net, out, at, 2, other, -1.0)
        case Held(k):
            out.kind[at], out.branch[at], out.ohm[at] = HELD, k, 1.0 / net.g_s[k]
            _point(net, out, at, 0, int(net.a[k]), 1.0)
            _point(net, out, at, 2, int(net.b[k]), -1.0)
        case Series(k, ohm, ratio):
            out.kind[at], out.ohm[at], out.emf_ratio[at] = SERIES, ohm, ratio
            _ends(net, out, at, k)
        case Cut(k):
            out.kind[at] = CUT
            _ends(net, out, at, k)


def _ends(net: Network, out: EditArrays, at: tuple[int, int], k: int) -> None:
    out.branch[at] = k
    out.node[at][:2] = net.a[k], net.b[k]
    out.weight[at][:2] = 1.0, -1.0


def _point(
    net: Network,
    out: EditArrays,
    at: tuple[int, int],
    column: int,
    point: int,
    sign: float,
) -> None:
    if point >= 0:
        out.node[at][column] = point
        out.weight[at][column] = sign
        return
    k = -1 - point
    out.node[at][column : column + 2] = net.a[k], net.b[k]
    out.weight[at][column : column + 2] = sign / 2
    out.middle[at][column // 2] = k
    # Its two halves side by side: a quarter of the wire's own resistance.
    out.ohm[at] += 0.25 / net.g_s[k]
