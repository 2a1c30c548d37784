"""A single fault as a rank-one change of a factorised network.

Putting conductance `d` between two points whose incidence is `w` changes the inverse
matrix ``Z`` to ``Z - kappa z z'`` with ``z = Z w``, ``kappa = d / (1 + d w'z)``. The
chafed middle of a wire is half of either end behind a quarter of the wire's resistance.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from harness.bases import LEAK_OHM, Base
from harness.circuit import BoolArray, FloatArray, IntArray, Role
from harness.faults import CHAFED_OHM, WEAK_EMF_RATIO, Fault, nearest_body
from harness.model import Harness

# Below this, no current can find another way round a branch: opening it cuts off an
# island. (1 - g R is the share of the current that another way would take.)
NO_OTHER_WAY = 1e-9


@dataclass(frozen=True)
class Changes:
    """Rank-one changes, one row a fault.

    Attributes
    ----------
    z_ohm : ndarray of float, shape (n_faults, n_nodes)
    kappa_s : ndarray of float, shape (n_faults,)
    volts : ndarray of float, shape (n_faults, n_nodes)
        Node volts with the fault in and the filaments still fixed.
    branch : ndarray of intp, shape (n_faults,)
        The branch concerned, or -1 where the fault is not in this network.
    branch_s, branch_emf_v : ndarray of float, shape (n_faults,)
        What the branch concerned has become.
    intact : ndarray of bool, shape (n_faults, n_lamps)
        False where the fault has broken that filament.
    """

    z_ohm: FloatArray
    kappa_s: FloatArray
    volts: FloatArray
    branch: IntArray
    branch_s: FloatArray
    branch_emf_v: FloatArray
    intact: BoolArray


_CUT = {"open", "blown", "dead"}


def changes(h: Harness, base: Base, faults: Sequence[Fault]) -> Changes:
    """Return what each fault does to a base.

    Parameters
    ----------
    h : Harness
    base : Base
    faults : sequence of Fault
    """
    net = base.net
    branch = np.array([net.branch_of.get(f.segment, -1) for f in faults], dtype=np.intp)
    k = np.maximum(branch, 0)
    old_s, old_v = base.g_s[k], net.emf_v[k]
    new_s, new_v = _become(faults, old_s, old_v)
    present = (branch >= 0) & (base.on[k] | np.isin(net.role[k], [int(Role.LAMP)]))
    z = (base.near_ohm[:, net.a[k]] - base.near_ohm[:, net.b[k]]).T
    rows = np.arange(len(faults))
    r = z[rows, net.a[k]] - z[rows, net.b[k]]
    drop = base.volts[net.a[k]] - base.volts[net.b[k]]
    d_s, d_a = new_s - old_s, new_s * new_v - old_s * old_v
    share = 1.0 + d_s * r
    cuts = np.array([f.mode in _CUT for f in faults], dtype=bool) & (
        share < NO_OTHER_WAY
    )
    z = np.where(cuts[:, None], np.round(old_s[:, None] * z), z)
    safe = np.where(cuts, 1.0, share)
    kappa = np.where(cuts, -LEAK_OHM, d_s / safe)
    pushed = np.where(cuts, 0.0, d_a / safe - kappa * drop)
    chafed = np.array([f.mode == "earthed" for f in faults], dtype=bool) & present
    for row in np.flatnonzero(chafed).tolist():
        z[row], kappa[row], pushed[row] = _chafed(h, base, int(k[row]))
        new_s[row] = old_s[row]
    kappa = np.where(present, kappa, 0.0)
    pushed = np.where(present, pushed, 0.0)
    broken = np.array([f.mode in _CUT for f in faults], dtype=bool)
    intact = ~(broken[:, None] & (branch[:, None] == base.lamps[None, :]))
    return Changes(
        z_ohm=z,
        kappa_s=kappa,
        volts=base.volts + z * pushed[:, None],
        branch=np.where(present, branch, -1),
        branch_s=new_s,
        branch_emf_v=new_v,
        intact=intact,
    )


def _become(
    faults: Sequence[Fault], old_s: FloatArray, old_v: FloatArray
) -> tuple[FloatArray, FloatArray]:
    new_s, new_v = old_s.copy(), old_v.copy()
    for row, fault in enumerate(faults):
        if fault.mode in _CUT:
            new_s[row] = 0.0
        elif fault.mode == "weak" and fault.ohms == 0.0:
            new_v[row] *= WEAK_EMF_RATIO
        elif fault.mode in {"resistive", "weak"} and old_s[row] > 0:
            new_s[row] = 1.0 / (1.0 / old_s[row] + fault.ohms)
    return new_s, new_v


def _chafed(h: Harness, base: Base, k: int) -> tuple[FloatArray, float, float]:
    """Return z, kappa and the pushed current of a wire chafed at its middle."""
    net = base.net
    body = nearest_body(h, net.segments[k].partition(":")[2])
    if body is None:
        return np.zeros(len(net.nodes)), 0.0, 0.0
    a, b, metal = int(net.a[k]), int(net.b[k]), net.node_of[body]
    z = (base.z_ohm[:, a] + base.z_ohm[:, b]) / 2 - base.z_ohm[:, metal]
    r = (z[a] + z[b]) / 2 - z[metal]
    d_s = 1.0 / (CHAFED_OHM + 0.25 / base.g_s[k])
    kappa = d_s / (1.0 + d_s * r)
    drop = (base.volts[a] + base.volts[b]) / 2 - base.volts[metal]
    return z, float(kappa), float(-kappa * drop)
