"""What an instrument between two points would show, for many faults at once.

A meter or lamp of resistance ``R`` between `probe` and `clip` sees the network as a
source ``open_v`` behind ``inner_ohm``. A test lamp can light filaments that were dark
and so change the network; where it would, the filaments are settled anew with it in.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from harness.circuit import BoolArray, FloatArray, IntArray, Network, Role, with_extra
from harness.errors import SingularNetwork
from harness.filaments import Filaments, settle_many
from harness.solver import DROP_OUT_RATIO, solve_network
from harness.tables import Group, RigTable

VOLTMETER_OHM = 1e7
TEST_LAMP_WATTS = 3.0
OPEN_ABOVE_OHM = 1e6
# A filament whose volts the test lamp moves by less than this share stays as it is.
MOVES_A_FILAMENT = 0.0015
TURNS_A_DIODE_V = 1e-6


def test_lamp_ohm(nominal_v: float) -> float:
    """Return the resistance of the test lamp: 3 W at nominal volts."""
    return nominal_v**2 / TEST_LAMP_WATTS


def _by_group(
    table: RigTable, rows: IntArray
) -> Iterator[tuple[int, IntArray, IntArray]]:
    """Yield each group with its rows wanted and where they stand in `rows`."""
    for number in range(len(table.groups)):
        where = np.flatnonzero(table.group_of[rows] == number)
        if where.size:
            yield number, table.row_in_group[rows[where]], where


@dataclass(frozen=True)
class _Between:
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
    ) -> "_Between":
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
        return self.group.change.z_ohm[self.inside]

    @property
    def kappa_s(self) -> FloatArray:
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

    def drop_with(self, k: int, amps: FloatArray, relit: "_Relit | None") -> FloatArray:
        """Return the volts over a branch while an instrument draws a current.

        Parameters
        ----------
        k : int
        amps : ndarray of float, shape (m, n_pairs)
        relit : _Relit or None
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


def voltmeter_v(
    table: RigTable, rows: IntArray, probe: IntArray, clip: IntArray
) -> FloatArray:
    """Return volts shown, probe minus clip.

    Parameters
    ----------
    table : RigTable
    rows : ndarray of intp, shape (m,)
        Which faults of the table.
    probe, clip : ndarray of intp, shape (n_pairs,)
        Nodes.

    Returns
    -------
    ndarray of float, shape (m, n_pairs)
        NaN for faults that find no rest.
    """
    return _read(table, rows, probe, clip, VOLTMETER_OHM)


def ohmmeter_ohm(
    table: RigTable, rows: IntArray, probe: IntArray, clip: IntArray
) -> FloatArray:
    """Return ohms between two points, infinite where over a megohm.

    The table's rig has the battery lead off, so that nothing drives a current.
    """
    out = np.full((len(rows), len(probe)), np.nan)
    for number, inside, where in _by_group(table, rows):
        inner = _Between.of(table.groups[number], inside, probe, clip).inner_ohm
        out[where] = np.where(inner > OPEN_ABOVE_OHM, np.inf, inner)
    return out


def ammeter_a(table: RigTable, rows: IntArray, branch: IntArray) -> FloatArray:
    """Return the amperes through some branches, shape (m, n_branches).

    A clamp around a wire changes nothing.
    """
    out = np.full((len(rows), len(branch)), np.nan)
    for number, inside, where in _by_group(table, rows):
        amps = table.groups[number].special_amps(branch)
        out[where] = amps[inside]
    return out


def test_lamp_v(
    table: RigTable, rows: IntArray, probe: IntArray, clip: IntArray
) -> FloatArray:
    """Return the volts across a test lamp, probe minus clip, shape (m, n_pairs)."""
    return _read(table, rows, probe, clip, test_lamp_ohm(table.h.volts))


def _read(
    table: RigTable, rows: IntArray, probe: IntArray, clip: IntArray, ohm: float
) -> FloatArray:
    """Return the volts across a resistance between two points.

    Where its current turns a diode or a relay over, it is read again in that state.
    """
    out = np.full((len(rows), len(probe)), np.nan)
    for number, inside, where in _by_group(table, rows):
        between = _Between.of(table.groups[number], inside, probe, clip)
        shown, relit = _volts(between, ohm)
        for flipped, mask in _switched_over(between, shown / ohm, relit):
            rows_hit = np.flatnonzero(mask.any(axis=1))
            columns = np.flatnonzero(mask.any(axis=0))
            if not columns.size:
                continue
            others = table.alternate(number, flipped, inside[rows_hit])
            again = np.full((len(rows_hit), len(columns)), np.nan)
            if others is not None:
                pairs = probe[columns], clip[columns]
                again = np.concatenate([_whole(o, *pairs, ohm) for o in others])
            spot = np.ix_(rows_hit, columns)
            shown[spot] = np.where(mask[spot], again, shown[spot])
        out[where] = shown
    return out


def _whole(group: Group, probe: IntArray, clip: IntArray, ohm: float) -> FloatArray:
    """Return what every set of a group shows."""
    every = np.arange(len(group.rows), dtype=np.intp)
    return _volts(_Between.of(group, every, probe, clip), ohm)[0]


@dataclass(frozen=True)
class _Relit:
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


def _volts(between: _Between, ohm: float) -> tuple[FloatArray, _Relit | None]:
    group, inside = between.group, between.inside
    shown: FloatArray = between.open_v * ohm / (ohm + between.inner_ohm)
    if not group.base.lamps.size:
        return shown, None
    coupling = between.with_lamps()
    moved = np.abs(coupling) * np.abs(shown / ohm)[:, :, None]
    limit = MOVES_A_FILAMENT * group.base.filaments.rated_v
    lit = (moved > limit) & group.change.intact[inside][:, None, :]
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
    return shown, _Relit(row, pair, exact.which, drawn)


class _Settled:
    """Filaments settled anew with a test lamp in, for chosen faults and pairs."""

    def __init__(self, between: _Between, which: IntArray, lamp_ohm: float) -> None:
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


def _switched_over(
    between: _Between, amps: FloatArray, relit: _Relit | None
) -> Iterator[tuple[tuple[int, ...], BoolArray]]:
    """Yield what an instrument's current turns over, and for which sets and pairs.

    Each item is the branches that go over to their other state together (a diode, or
    the contacts of a relay) and a mask of shape (m, n_pairs).
    """
    base = between.group.base
    net = base.net
    for k in np.unique(net.coil_of[net.coil_of >= 0]).tolist():
        contacts = tuple(np.flatnonzero(net.coil_of == k).tolist())
        limit = float(net.limit[contacts[0]])
        is_pulled = base.on[contacts[0]] == (net.role[contacts[0]] == Role.MAKE)
        if is_pulled:
            limit *= DROP_OUT_RATIO
        cut = between.group.cut(np.array([k]))[between.inside]
        pulled = (np.abs(between.drop_with(k, amps, relit)) >= limit) & ~cut
        yield contacts, pulled != is_pulled
    for k in net.of_role(Role.DIODE).tolist():
        excess = between.drop_with(k, amps, relit) - net.emf_v[k]
        turned = excess < -TURNS_A_DIODE_V if base.on[k] else excess > TURNS_A_DIODE_V
        yield (k,), turned


def lamp_read_directly(
    net: Network, probe: int, clip: int, nominal_v: float, blown: tuple[int, ...] = ()
) -> float:
    """Solve the network with the test lamp wired in; return its volts.

    Returns
    -------
    float
        NaN where a relay would then chatter and nothing steady can be read.
    """
    loaded = with_branch(net, probe, clip, test_lamp_ohm(nominal_v))
    try:
        solution = solve_network(loaded, blown=blown)
    except SingularNetwork:
        return float("nan")
    return float(solution.volts[probe] - solution.volts[clip])


def with_branch(net: Network, a: int, b: int, ohm: float) -> Network:
    """Return the network with a resistance between two nodes, as ``instrument``."""
    return with_extra(net, [("instrument", a, b, 1.0 / ohm)])
