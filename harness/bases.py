"""One factorisation of a network in one discrete state, and what it gives.

A discrete state says which diodes, relay contacts and fuses conduct. In it the network
is linear but for the filaments, which are fixed at the conductance that they have in
the healthy circuit; `filaments.py` puts right what a fault changes in them.

An island that nothing joins to the reference is tied to it through `LEAK_OHM`, far more
than any meter, so that a reading between an island and the rest comes out as nothing.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from harness.circuit import BoolArray, FloatArray, IntArray, Network, Role
from harness.filaments import Filaments
from harness.solver import (
    anchors,
    conductance_matrix,
    hold,
    islands,
    settle_lamps,
)

LEAK_OHM = 1e11


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
        the island's own held node.
    z_ohm : ndarray of float, shape (n_nodes, n_nodes)
        The same against the reference, islands joined to it by the leak.
    island : ndarray of intp, shape (n_nodes,)
    lamps : ndarray of intp, shape (n_lamps,)
        Branches that are filaments.
    """

    net: Network
    on: BoolArray
    volts: FloatArray
    g_s: FloatArray
    near_ohm: FloatArray
    z_ohm: FloatArray
    island: IntArray
    lamps: IntArray
    filaments: Filaments

    def across_lamps(self, columns: FloatArray) -> FloatArray:
        """Take node quantities (last axis) to differences over the filaments."""
        net, lamps = self.net, self.lamps
        difference: FloatArray = columns[..., net.a[lamps]] - columns[..., net.b[lamps]]
        return difference

    @property
    def lamp_columns(self) -> FloatArray:
        """Volts at every node for an ampere through each filament's ends.

        Returns
        -------
        ndarray of float, shape (n_nodes, n_lamps)
        """
        return self.across_lamps(self.near_ohm)


# About a megabyte each for a loom of 120 wires.
@lru_cache(maxsize=96)
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
    on = np.frombuffer(state, dtype=np.bool_)
    volts, g_s = settle_lamps(net, on)
    island = islands(net, on)
    held = anchors(net, island)
    matrix = hold(net, conductance_matrix(net, g_s), held)
    together = island[:, None] == island[None, :]
    near = np.where(together, np.linalg.inv(matrix) - 1.0, 0.0)
    afloat = island != island[net.reference]
    z_ohm = near + np.where(together & afloat[:, None], LEAK_OHM, 0.0)
    lamps = net.of_role(Role.LAMP)
    return Base(
        net=net,
        on=on,
        volts=volts,
        g_s=g_s,
        near_ohm=near,
        z_ohm=z_ohm,
        island=island,
        lamps=lamps,
        filaments=Filaments(net.g_s[lamps], net.limit[lamps], g_s[lamps]),
    )
