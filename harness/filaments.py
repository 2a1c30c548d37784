"""Filaments of many circuits at once, each circuit known through its lamps' ports.

With every filament fixed at a chosen conductance, a circuit gives the volts `open_v`
across each filament and the matrix `z_ohm` of volts for an ampere drawn there. What the
filaments draw beyond the fixed conductance then obeys
``v = open_v - z_ohm (i(v) - fixed_s v)``.
"""

from dataclasses import dataclass

import numpy as np

from harness.circuit import BoolArray, FloatArray
from harness.errors import SingularNetwork
from harness.lamplaw import secant_s, tangent_s

TOLERANCE = 1e-9
NEWTON_BELOW = 0.05
MAX_STEPS = 100


@dataclass(frozen=True, slots=True)
class Filaments:
    """The filaments of a network.

    Attributes
    ----------
    hot_s, rated_v, fixed_s : ndarray of float, shape (n_lamps,)
        Conductance at rated volts, rated volts, and the conductance fixed in `z_ohm`.
    """

    hot_s: FloatArray
    rated_v: FloatArray
    fixed_s: FloatArray

    def excess_amps(self, drop_v: FloatArray) -> FloatArray:
        """Return the current beyond that of the fixed conductance."""
        excess: FloatArray = (
            secant_s(drop_v, self.hot_s, self.rated_v) - self.fixed_s
        ) * drop_v
        return excess


def settle_many(
    filaments: Filaments,
    open_v: FloatArray,
    z_ohm: FloatArray,
    intact: BoolArray,
    start_v: FloatArray | None = None,
) -> FloatArray:
    """Find the volts across every filament of every circuit.

    Parameters
    ----------
    filaments : Filaments
    open_v : ndarray of float, shape (n_circuits, n_lamps)
    z_ohm : ndarray of float, shape (n_circuits, n_lamps, n_lamps)
    intact : ndarray of bool, shape (n_circuits, n_lamps)
        False where the filament is broken and draws nothing.
    start_v : ndarray of float, shape (n_circuits, n_lamps), optional
        A guess; `open_v` unless given.

    Returns
    -------
    ndarray of float, shape (n_circuits, n_lamps), volts

    Raises
    ------
    SingularNetwork
        When the filaments of some circuit do not come to rest.
    """
    volts = (open_v if start_v is None else start_v).copy()
    if not volts.size:
        return volts
    identity = np.eye(volts.shape[1])
    # Most faults leave the filaments as they are.
    extra = np.where(intact, filaments.excess_amps(volts), 0.0)
    off = open_v - np.einsum("mij,mj->mi", z_ohm, extra) - volts
    active = np.flatnonzero(np.max(np.abs(off) / filaments.rated_v, axis=1) > TOLERANCE)
    if not active.size:
        return volts
    near = np.zeros(len(active), dtype=bool)
    for _ in range(MAX_STEPS):
        v, z, ok = volts[active], z_ohm[active], intact[active]
        secant = secant_s(v, filaments.hot_s, filaments.rated_v)
        tangent = tangent_s(v, filaments.hot_s, filaments.rated_v)
        slope = np.where(near[:, None], tangent, secant)
        extra_s = np.where(ok, slope - filaments.fixed_s, 0.0)
        extra_a = np.where(ok, (secant - slope) * v, 0.0)
        known = open_v[active] - np.einsum("mij,mj->mi", z, extra_a)
        matrix = identity + z * extra_s[:, None, :]
        new = np.linalg.solve(matrix, known[:, :, None])[:, :, 0]
        moved = np.max(np.abs(new - v) / filaments.rated_v, axis=1)
        near = moved < NEWTON_BELOW
        volts[active] = new
        active = active[moved > TOLERANCE]
        near = near[moved > TOLERANCE]
        if not active.size:
            return volts
    raise SingularNetwork(("the filaments come to no steady state",))
