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


# A third of a megabyte each for a loom of 120 wires.
_KEPT: "Remembered[tuple[Network, bytes], Base]" = Remembered(
    most_bytes=150 << 20, size_of=lambda base: int(base.near_ohm.nbytes)
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


def _factorised(net: Network, state: bytes) -> Base:
    on = np.frombuffer(state, dtype=np.bool_)
    island = islands(net, on)
    lamps = net.of_role(Role.LAMP)
    g_s = np.where(on, net.g_s, 0.0)
    g_s[lamps] /= COLD_RATIO
    matrix = hold(net, conductance_matrix(net, g_s), anchors(net, island))
    inverse = np.linalg.inv(matrix)
    together = island[:, None] == island[None, :]
    # Each island's held node is tied to zero through one ohm, which cancels out.
    near = np.where(together, inverse - 1.0, 0.0)
    volts = inverse @ injected_amps(net, g_s)
    near, volts, warm_s = _warmed(net, near, volts, lamps)
    g_s[lamps] = warm_s
    return Base(
        net=net,
        on=on,
        volts=volts,
        g_s=g_s,
        near_ohm=near,
        island=island,
        lamps=lamps,
        filaments=Filaments(net.g_s[lamps], net.limit[lamps], warm_s),
    )


def _warmed(
    net: Network, near: FloatArray, volts: FloatArray, lamps: IntArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Let cold filaments come to their own conductance.

    Returns
    -------
    near_ohm : ndarray of float, shape (n_nodes, n_nodes)
    volts : ndarray of float, shape (n_nodes,)
    warm_s : ndarray of float, shape (n_lamps,)
    """
    hot, rated = net.g_s[lamps], net.limit[lamps]
    if not lamps.size:
        return near, volts, hot
    a, b = net.a[lamps], net.b[lamps]
    columns = near[:, a] - near[:, b]
    z = columns[a] - columns[b]
    cold = Filaments(hot, rated, hot / COLD_RATIO)
    intact = np.ones((1, len(lamps)), dtype=bool)
    drop = settle_many(cold, (volts[a] - volts[b])[None], z[None], intact)[0]
    volts = volts - columns @ cold.excess_amps(drop)
    warm = secant_s(drop, hot, rated)
    less = np.flatnonzero(cold.fixed_s - warm > 0.0)
    if less.size:
        some = columns[:, less]
        change = np.diag(1.0 / (warm - cold.fixed_s)[less]) + z[np.ix_(less, less)]
        near = near - some @ np.linalg.solve(change, some.T)
    return near, volts, warm
