"""Sets of faults solved together in one discrete state of a network."""

from dataclasses import dataclass, replace

import numpy as np

from harness.bases import Base
from harness.circuit import BoolArray, FloatArray, IntArray, Role
from harness.edit_arrays import EditArrays
from harness.filaments import Filaments, settle_many
from harness.ports import Changes, changes
from harness.sights import Sight
from harness.solver import DROP_OUT_RATIO, FUSE_OPENS_AT

DIODE_TOLERANCE_V = 1e-6
DARK_V = 1e-9
# Less current than this out of a filament's way moves nothing.
UNMOVED_A = 1e-12


@dataclass(frozen=True)
class Group:
    """Faults that share a discrete state.

    Attributes
    ----------
    sight : Sight
    rows : ndarray of intp, shape (m,)
        Which sets of the table.
    change : Changes
        Of those faults, in the same order.
    lamp_v : ndarray of float, shape (m, n_lamps)
    """

    sight: Sight
    rows: IntArray
    change: Changes
    lamp_v: FloatArray

    @property
    def volts(self) -> FloatArray:
        """The operating points, shape (m, n_seen)."""
        return self.change.volts

    @property
    def base(self) -> Base:
        """The factorisation that it rests on."""
        return self.sight.base

    def special_amps(self, branches: IntArray) -> FloatArray:
        """Return the current of some branches (not filaments) for each fault.

        Returns
        -------
        ndarray of float, shape (m, len(branches)), amperes
        """
        g_s, emf_v = self.made_of(branches)
        amps: FloatArray = g_s * (self.drops(branches) - emf_v)
        return amps

    def made_of(self, branches: IntArray) -> tuple[FloatArray, FloatArray]:
        """Return what some branches (not filaments) are, with each set's faults in.

        Returns
        -------
        g_s, emf_v : ndarray of float, shape (m, len(branches))
        """
        net, change = self.base.net, self.change
        shape = len(self.rows), len(branches)
        healthy_s = np.where(self.base.on[branches], net.g_s[branches], 0.0)
        g_s = np.broadcast_to(healthy_s, shape)
        emf_v = np.broadcast_to(net.emf_v[branches], shape)
        for edit in range(change.branch.shape[1]):
            hit = change.branch[:, edit, None] == branches[None, :]
            g_s = np.where(hit, change.branch_s[:, edit, None], g_s)
            emf_v = np.where(hit, change.branch_emf_v[:, edit, None], emf_v)
        return g_s, emf_v

    def drops(self, branches: IntArray) -> FloatArray:
        """Return the volts over some branches, shape (m, len(branches))."""
        net, at = self.base.net, self.sight.at
        drop: FloatArray = (
            self.volts[:, at[net.a[branches]]] - self.volts[:, at[net.b[branches]]]
        )
        return drop

    def cut(self, branches: IntArray) -> BoolArray:
        """Return which of some branches are cut, shape (m, len(branches))."""
        gone = np.where(self.change.branch_s == 0.0, self.change.branch, -1)
        out: BoolArray = (gone[:, :, None] == branches[None, None, :]).any(axis=1)
        return out


def solve_group(sight: Sight, made: EditArrays, rows: IntArray) -> Group:
    """Solve some sets of faults in one discrete state.

    Raises
    ------
    SingularNetwork
        When the filaments find no rest.
    """
    base = sight.base
    change = changes(sight, made.rows(rows))
    columns, filaments = sight.lamp_columns, base.filaments
    lamp_z = sight.across_lamps(change.z_ohm)
    lamp_v = sight.across_lamps(change.volts)
    # Most sets leave the filaments as they are in the base.
    extra = np.where(change.intact, filaments.excess_amps(lamp_v), 0.0)
    moves = np.flatnonzero(np.any(np.abs(extra) > UNMOVED_A, axis=1))
    if moves.size:
        lamp_v[moves] = _settled(sight, change, (moves, lamp_z[moves], lamp_v[moves]))
    excess = np.where(change.intact, filaments.excess_amps(lamp_v), 0.0)
    moved = np.einsum("mtl,ml->mt", lamp_z, excess) * change.kappa_s
    volts = change.volts - excess @ columns.T
    volts += np.einsum("mt,mtn->mn", moved, change.z_ohm)
    return Group(sight, rows, replace(change, volts=volts), lamp_v)


def _settled(
    sight: Sight, change: Changes, moving: tuple[IntArray, FloatArray, FloatArray]
) -> FloatArray:
    """Return the volts of all filaments for the sets that move them."""
    rows, lamp_z, open_v = moving
    kappa, intact = change.kappa_s[rows], change.intact[rows]
    port = sight.across_lamps(sight.lamp_columns.T).T
    z = port[None] - np.einsum("mti,mtj->mij", kappa[:, :, None] * lamp_z, lamp_z)
    lit, out = _lit(open_v, z), np.zeros_like(open_v)
    filaments = sight.base.filaments
    some = Filaments(
        filaments.hot_s[lit], filaments.rated_v[lit], filaments.fixed_s[lit]
    )
    out[:, lit] = settle_many(
        some, open_v[:, lit], z[:, lit][:, :, lit], intact[:, lit]
    )
    return out


def _lit(open_v: FloatArray, z_ohm: FloatArray) -> IntArray:
    """Return the filaments that any set puts volts on; the others stay cold."""
    lit: BoolArray = np.any(np.abs(open_v) > DARK_V, axis=0)
    coupled: BoolArray = np.any(np.abs(z_ohm) > DARK_V, axis=0)
    for _ in range(len(lit)):
        reached = lit | coupled[:, lit].any(axis=1)
        if (reached == lit).all():
            break
        lit = reached
    return np.flatnonzero(lit)


def contradictions(group: Group) -> IntArray:
    """Return for each set the branch to go over to its other state.

    The order is that of `solver.disagreement`. -1 says that all agree.
    """
    pulls_in, lets_go = _relay_moves(group)
    out = np.full(len(group.rows), -1, dtype=np.intp)
    # What comes later goes first.
    for found in (lets_go, _fuse_opens(group), pulls_in, _diode_turns(group)):
        out = np.where(found >= 0, found, out)
    return out


def _relay_moves(group: Group) -> tuple[IntArray, IntArray]:
    """Return for each set a contact whose relay pulls in, and one that lets go."""
    base, net = group.base, group.base.net
    contacts = np.flatnonzero(net.coil_of >= 0)
    coils, limit = net.coil_of[contacts], net.limit[contacts]
    coil_v = np.where(group.cut(coils), 0.0, np.abs(group.drops(coils)))
    on = base.on[contacts]
    pulled = np.where(net.role[contacts] == Role.MAKE, on, ~on)
    lets_go = np.where(pulled & (coil_v < DROP_OUT_RATIO * limit), 1.0, 0.0)
    pulls_in = np.where(~pulled & (coil_v >= limit), 1.0, 0.0)
    return _worst(contacts, pulls_in, 0.0), _worst(contacts, lets_go, 0.0)


def _fuse_opens(group: Group) -> IntArray:
    fuses = group.base.net.of_role(Role.FUSE)
    load = np.abs(group.special_amps(fuses)) / group.base.net.limit[fuses]
    return _worst(fuses, load, FUSE_OPENS_AT)


def _diode_turns(group: Group) -> IntArray:
    base, net = group.base, group.base.net
    diodes = net.of_role(Role.DIODE)
    back_v = -group.special_amps(diodes) / net.g_s[diodes]
    over_v = group.drops(diodes) - net.emf_v[diodes]
    excess = np.where(base.on[diodes], back_v, over_v)
    return _worst(diodes, excess, DIODE_TOLERANCE_V)


def _worst(branches: IntArray, excess: FloatArray, limit: float) -> IntArray:
    """Return each row's branch of the largest excess, -1 where none is over a limit."""
    if not branches.size:
        return np.full(len(excess), -1, dtype=np.intp)
    worst = excess.argmax(axis=1)
    over = excess[np.arange(len(excess)), worst] > limit
    return np.where(over, branches[worst], -1)


def some_of(group: Group, keep: BoolArray) -> Group:
    """Return a group with only some of its sets."""
    c = group.change
    change = Changes(
        c.z_ohm[keep],
        c.kappa_s[keep],
        c.volts[keep],
        c.island[keep],
        c.branch[keep],
        c.branch_s[keep],
        c.branch_emf_v[keep],
        c.intact[keep],
    )
    return Group(group.sight, group.rows[keep], change, group.lamp_v[keep])
