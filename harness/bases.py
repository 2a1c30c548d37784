"""One factorisation of a network in one discrete state, and what it gives.

A discrete state says which diodes, relay contacts and fuses conduct. In it the network
is linear but for the filaments, which are fixed at the conductance that they have in
the healthy circuit; `filaments.py` puts right what a fault changes in them.
"""

from dataclasses import dataclass

import numpy as np

from harness.circuit import BoolArray, FloatArray, IntArray, Network, Role
from harness.filaments import Filaments, settle_many
from harness.lamplaw import COLD_RATIO, secant_s
from harness.remembering import Remembered
from harness.solver import (
    anchors,
    conductance_matrix,
    hold,
    injected_amps,
    islands,
)


@dataclass(frozen=True)
class Base:
    """A network in one discrete state, solved.

    Attributes
    ----------
    on : ndarray of bool, shape (n_branches,)
    volts : ndarray of float, shape (n_nodes,)
        Of the healthy circuit.
    g_s : ndarray of float, shape (n_branches,)
    near_ohm : ndarray of float, shape (n_nodes, n_nodes)
        Volts at a node for an ampere put in at another of the same island, against
        the island's own held node; nothing between islands.
    island : ndarray of intp, shape (n_nodes,)
        The lowest node that each is joined to.
    lamps : ndarray of intp, shape (n_lamps,)
        Branches that are filaments.
    """

    net: Network
    on: BoolArray
    volts: FloatArray
    g_s: FloatArray
    near_ohm: FloatArray
    island: IntArray
    lamps: IntArray
    filaments: Filaments


# Below this, no current can find another way round a branch: opening it cuts off an
# island. (1 - g R is the share of the current that another way would take.)
NO_OTHER_WAY = 1e-9
SAME_CONDUCTANCE = 1e-12


# A third of a megabyte each for a loom of 120 wires.
_KEPT: "Remembered[tuple[Network, bytes], Base]" = Remembered(
    most_bytes=16 << 20, size_of=lambda base: int(base.near_ohm.nbytes)
)


def factorise(net: Network, state: bytes) -> Base:
    """Solve the healthy network in a state and invert its matrix.

    Parameters
    ----------
    net : Network
    state : bytes
        Which branches conduct, as the bytes of an array of bool.

    Raises
    ------
    SingularNetwork
        When its filaments come to no rest.
    """
    return _KEPT.get((net, state), lambda: _factorised(net, state))


def forget_bases() -> None:
    """Drop every factorisation, so that what follows starts cold."""
    _KEPT.clear()
    _FIRST.clear()


def _factorised(net: Network, state: bytes) -> Base:
    on = np.frombuffer(state, dtype=np.bool_)
    first = _FIRST.get(net, lambda: _inverted(net, on))
    turned = np.flatnonzero(on != first.on)
    if not turned.size:
        return first
    if len(turned) <= MOST_TURNED:
        return _turned_over(first, on, turned)
    return _inverted(net, on)


# The first state of a network that was met: others are reached from it.
_FIRST: "Remembered[Network, Base]" = Remembered(
    most_bytes=16 << 20, size_of=lambda base: int(base.near_ohm.nbytes)
)
MOST_TURNED = 8


def _inverted(net: Network, on: BoolArray) -> Base:
    island = islands(net, on)
    lamps = net.of_role(Role.LAMP)
    g_s = np.where(on, net.g_s, 0.0)
    g_s[lamps] /= COLD_RATIO
    matrix = hold(net, conductance_matrix(net, g_s), anchors(net, island))
    together = island[:, None] == island[None, :]
    # Each island's held node is tied to zero through one ohm, which cancels out.
    near = np.where(together, np.linalg.inv(matrix) - 1.0, 0.0)
    return _warmed(net, on, near, g_s, island)


def _turned_over(first: Base, on: BoolArray, turned: IntArray) -> Base:
    """Reach a state from another one, branch by branch.

    What joins comes first. See `ports.py` for the three kinds of change.
    """
    net, near, label = first.net, first.near_ohm.copy(), first.island.copy()
    g_s = first.g_s.copy()
    for k in sorted(turned.tolist(), key=lambda k: not on[k]):
        a, b = int(net.a[k]), int(net.b[k])
        z = near[:, a] - near[:, b]
        r = float(z[a] - z[b])
        d_s = float(net.g_s[k]) if on[k] else -float(g_s[k])
        if on[k] and label[a] != label[b]:
            ends = (a, b) if label[a] != label[net.reference] else (b, a)
            sign = 1.0 if ends[0] == a else -1.0
            _join(near, label, ends, sign * z, r + 1.0 / d_s)
        elif not on[k] and 1.0 + d_s * r < NO_OTHER_WAY:
            far = np.abs(d_s * z) > 0.5  # noqa: PLR2004 - it is nothing or one
            label[far & (label == label[a])] = -1 - k
        else:
            near -= d_s / (1.0 + d_s * r) * np.outer(z, z)
        g_s[k] = net.g_s[k] if on[k] else 0.0
    island = islands(net, on)
    near[island[:, None] != island[None, :]] = 0.0
    return _warmed(net, on, near, g_s, island)


def _join(
    near: FloatArray,
    label: IntArray,
    ends: tuple[int, int],
    z: FloatArray,
    s: float,
) -> None:
    """Join the islands of two nodes by a resistance, in place.

    `z` is the difference of their columns, `s` their resistance through both held
    nodes; the second island's node stays held.
    """
    moving, staying = label[ends[0]], label[ends[1]]
    e = label == moving
    near[e, :] -= z[None, :]
    near[:, e] -= z[:, None]
    near[np.ix_(e, e)] += s
    label[e] = staying


def _warmed(
    net: Network, on: BoolArray, near: FloatArray, g_s: FloatArray, island: IntArray
) -> Base:
    """Let the filaments come to their own conductance; return the base.

    Raises
    ------
    SingularNetwork
        When they come to no rest.
    """
    lamps = net.of_role(Role.LAMP)
    volts = near @ injected_amps(net, g_s)
    a, b = net.a[lamps], net.b[lamps]
    columns = near[:, a] - near[:, b]
    z = columns[a] - columns[b]
    before = Filaments(net.g_s[lamps], net.limit[lamps], g_s[lamps])
    intact = np.ones((1, len(lamps)), dtype=bool)
    drop = settle_many(before, (volts[a] - volts[b])[None], z[None], intact)[0]
    volts = volts - columns @ before.excess_amps(drop)
    # As the solver has it: an island stands at zero volts at its first node.
    volts = np.where(island == island[net.reference], volts, volts - volts[island])
    warm = secant_s(drop, before.hot_s, before.rated_v)
    moved = np.flatnonzero(np.abs(warm / before.fixed_s - 1.0) > SAME_CONDUCTANCE)
    if moved.size:
        some = columns[:, moved]
        change = np.diag(1.0 / (warm - before.fixed_s)[moved]) + z[np.ix_(moved, moved)]
        near = near - some @ np.linalg.solve(change, some.T)
        g_s[lamps[moved]] = warm[moved]
    return Base(
        net=net,
        on=on,
        volts=volts,
        g_s=g_s,
        near_ohm=near,
        island=island,
        lamps=lamps,
        filaments=Filaments(before.hot_s, before.rated_v, g_s[lamps]),
    )
