"""Filaments that the current of a test lamp lights or dims, settled anew with it in."""

import numpy as np

from harness.circuit import FloatArray, IntArray
from harness.filaments import Filaments, settle_many
from harness.lamplaw import secant_s
from harness.thevenin import Between, Relit

# A filament whose volts the test lamp moves by less than this share stays as it is.
MOVES_A_FILAMENT = 0.0015


def volts_over(between: Between, ohm: float) -> tuple[FloatArray, Relit | None]:
    """Return the volts over an instrument, and which filaments it moves.

    Returns
    -------
    ndarray of float, shape (m, n_pairs)
    Relit or None
    """
    group, inside = between.group, between.inside
    shown: FloatArray = between.open_v * ohm / (ohm + between.inner_ohm)
    if not group.base.lamps.size:
        return shown, None
    coupling = between.with_lamps()
    moved = np.abs(coupling) * np.abs(shown / ohm)[:, :, None]
    lamps = group.base.filaments
    # One that glows now, but not in the healthy bike, moves more than it seems to.
    now_s = secant_s(group.lamp_v[inside], lamps.hot_s, lamps.rated_v)
    limit = MOVES_A_FILAMENT * lamps.rated_v * np.minimum(now_s / lamps.fixed_s, 1.0)
    lit = (moved > limit[:, None, :]) & group.change.intact[inside][:, None, :]
    row, pair = np.nonzero(lit.any(axis=2))
    if not row.size:
        return shown, None
    exact = _Settled(between, np.flatnonzero(lit.any(axis=(0, 1))), ohm)
    shown[row, pair], drawn = exact.lamp_volts(
        row,
        coupling[row, pair],
        between.open_v[row, pair],
        between.inner_ohm[row, pair],
    )
    return shown, Relit(row, pair, exact.which, drawn)


class _Settled:
    """Filaments settled anew with a test lamp in, for chosen faults and pairs."""

    def __init__(self, between: Between, which: IntArray, lamp_ohm: float) -> None:
        group, inside = between.group, between.inside
        sight, change = group.sight, group.change
        self.lamp_ohm = lamp_ohm
        self.which = which
        lamps = group.base.filaments
        self.filaments = Filaments(
            lamps.hot_s[which], lamps.rated_v[which], lamps.fixed_s[which]
        )
        columns = sight.lamp_columns
        port = sight.across_lamps(columns.T)[:, which].T[:, which]
        lamp_z = sight.across_lamps(between.z_ohm)[:, :, which]
        self.z = port[None] - np.einsum(
            "mti,mtj->mij", between.kappa_s[:, :, None] * lamp_z, lamp_z
        )
        self.lamp_v = group.lamp_v[inside][:, which]
        self.intact = change.intact[inside][:, which]
        excess = np.where(self.intact, self.filaments.excess_amps(self.lamp_v), 0.0)
        # Volts with these filaments back at their fixed conductance.
        self.open_v = self.lamp_v + np.einsum("mij,mj->mi", self.z, excess)
        self.excess = excess

    def lamp_volts(
        self, row: IntArray, coupling: FloatArray, open_v: FloatArray, inner: FloatArray
    ) -> tuple[FloatArray, FloatArray]:
        """Return the test lamp's volts, and what each filament draws more."""
        a = coupling[:, self.which]
        total = self.lamp_ohm + inner
        fixed_v = open_v + np.einsum("kl,kl->k", a, self.excess[row])
        start = self.open_v[row] - a * (fixed_v / total)[:, None]
        z = self.z[row] - a[:, :, None] * a[:, None, :] / total[:, None, None]
        intact = self.intact[row]
        settled = settle_many(self.filaments, start, z, intact, self.lamp_v[row])
        excess = np.where(intact, self.filaments.excess_amps(settled), 0.0)
        amps = (fixed_v - np.einsum("kl,kl->k", a, excess)) / total
        return amps * self.lamp_ohm, excess - self.excess[row]
