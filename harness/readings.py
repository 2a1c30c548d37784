"""What an instrument between two points would show, for many faults at once.

A meter or lamp of resistance ``R`` between `probe` and `clip` sees the network as a
source ``open_v`` behind ``inner_ohm``. A test lamp can light filaments that were dark
and so change the network; where it would, the filaments are settled anew with it in.
"""

from collections.abc import Iterator

import numpy as np

from harness.circuit import BoolArray, FloatArray, IntArray, Network, Role
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


def _ports(
    group: Group, inside: IntArray, probe: IntArray, clip: IntArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return open volts and inner ohms (m, n_pairs), and the change's own share.

    The share is the volts between probe and clip for an ampere at the fault.
    """
    base, change = group.base, group.change
    z = base.z_ohm
    near = np.where(
        base.island[probe] == base.island[clip],
        base.near_ohm[probe, probe]
        + base.near_ohm[clip, clip]
        - 2 * base.near_ohm[probe, clip],
        z[probe, probe] + z[clip, clip] - 2 * z[probe, clip],
    )
    share = change.z_ohm[inside][:, probe] - change.z_ohm[inside][:, clip]
    inner = near[None, :] - change.kappa_s[inside][:, None] * share**2
    volts = group.volts[inside]
    return volts[:, probe] - volts[:, clip], np.maximum(inner, 0.0), share


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
        group = table.groups[number]
        _, inner, _ = _ports(group, inside, probe, clip)
        out[where] = np.where(inner > OPEN_ABOVE_OHM, np.inf, inner)
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
        shown = _volts_in_group(table.groups[number], inside, probe, clip, ohm)
        for flipped, mask in _switched_over(
            table, number, inside, (probe, clip), shown / ohm
        ):
            rows_hit = np.flatnonzero(mask.any(axis=1))
            columns = np.flatnonzero(mask.any(axis=0))
            if not columns.size:
                continue
            other = table.alternate(number, flipped, inside[rows_hit])
            again = np.full((len(rows_hit), len(columns)), np.nan)
            if other is not None:
                every = np.arange(len(rows_hit), dtype=np.intp)
                again = _volts_in_group(
                    other, every, probe[columns], clip[columns], ohm
                )
            spot = np.ix_(rows_hit, columns)
            shown[spot] = np.where(mask[spot], again, shown[spot])
        out[where] = shown
    return out


def _volts_in_group(
    group: Group, inside: IntArray, probe: IntArray, clip: IntArray, ohm: float
) -> FloatArray:
    base, change = group.base, group.change
    open_v, inner, share = _ports(group, inside, probe, clip)
    shown: FloatArray = open_v * ohm / (ohm + inner)
    columns = base.lamp_columns
    if columns.shape[1]:
        at_pair = columns[probe] - columns[clip]
        lamp_z = base.across_lamps(change.z_ohm[inside])
        kappa = change.kappa_s[inside]
        coupling = (
            at_pair[None] - (kappa[:, None] * share)[:, :, None] * lamp_z[:, None, :]
        )
        moved = np.abs(coupling) * np.abs(shown / ohm)[:, :, None]
        lit = (moved > MOVES_A_FILAMENT * base.filaments.rated_v) & change.intact[
            inside
        ][:, None, :]
        row, pair = np.nonzero(lit.any(axis=2))
        if row.size:
            which = np.flatnonzero(lit.any(axis=(0, 1)))
            exact = _Settled(group, inside, which, ohm)
            shown[row, pair] = exact.lamp_volts(
                row, coupling[row, pair], open_v[row, pair], inner[row, pair]
            )
    return shown


class _Settled:
    """Filaments settled anew with a test lamp in, for chosen faults and pairs."""

    def __init__(
        self, group: Group, inside: IntArray, which: IntArray, lamp_ohm: float
    ) -> None:
        base, change = group.base, group.change
        self.lamp_ohm = lamp_ohm
        self.which = which
        lamps = base.filaments
        self.filaments = Filaments(
            lamps.hot_s[which], lamps.rated_v[which], lamps.fixed_s[which]
        )
        columns = base.lamp_columns
        port = base.across_lamps(columns.T)[:, which].T[:, which]
        lamp_z = base.across_lamps(change.z_ohm[inside])[:, which]
        self.z = port[None] - change.kappa_s[inside][:, None, None] * (
            lamp_z[:, :, None] * lamp_z[:, None, :]
        )
        self.lamp_v = group.lamp_v[inside][:, which]
        self.intact = change.intact[inside][:, which]
        excess = np.where(self.intact, self.filaments.excess_amps(self.lamp_v), 0.0)
        # Volts with these filaments back at their fixed conductance.
        self.open_v = self.lamp_v + np.einsum("mij,mj->mi", self.z, excess)
        self.excess = excess

    def lamp_volts(
        self, row: IntArray, coupling: FloatArray, open_v: FloatArray, inner: FloatArray
    ) -> FloatArray:
        a = coupling[:, self.which]
        total = self.lamp_ohm + inner
        fixed_v = open_v + np.einsum("kl,kl->k", a, self.excess[row])
        start = self.open_v[row] - a * (fixed_v / total)[:, None]
        z = self.z[row] - a[:, :, None] * a[:, None, :] / total[:, None, None]
        intact = self.intact[row]
        settled = settle_many(self.filaments, start, z, intact, self.lamp_v[row])
        excess = np.where(intact, self.filaments.excess_amps(settled), 0.0)
        amps = (fixed_v - np.einsum("kl,kl->k", a, excess)) / total
        volts: FloatArray = amps * self.lamp_ohm
        return volts


def _switched_over(
    table: RigTable,
    number: int,
    inside: IntArray,
    pairs: tuple[IntArray, IntArray],
    amps: FloatArray,
) -> Iterator[tuple[tuple[int, ...], BoolArray]]:
    """Yield what an instrument's current turns over, and for which faults and pairs.

    Each item is the branches that go over to their other state together (a diode, or
    the contacts of a relay) and a mask of shape (m, n_pairs).
    """
    group = table.groups[number]
    net, base, change = group.base.net, group.base, group.change
    probe, clip = pairs
    coils = np.unique(net.coil_of[net.coil_of >= 0])
    diodes = net.of_role(Role.DIODE)
    before = {k: group.drops(np.array([k]))[inside][:, 0] for k in (*coils, *diodes)}
    share = change.z_ohm[inside][:, probe] - change.z_ohm[inside][:, clip]

    def after(k: int) -> FloatArray:
        column = base.z_ohm[net.a[k]] - base.z_ohm[net.b[k]]
        own = change.z_ohm[inside][:, net.a[k]] - change.z_ohm[inside][:, net.b[k]]
        coupling = (column[probe] - column[clip])[None] - (
            change.kappa_s[inside] * own
        )[:, None] * share
        drop: FloatArray = before[k][:, None] - coupling * amps
        return drop

    for k in coils.tolist():
        contacts = tuple(np.flatnonzero(net.coil_of == k).tolist())
        limit = float(net.limit[contacts[0]])
        is_pulled = base.on[contacts[0]] == (net.role[contacts[0]] == Role.MAKE)
        if is_pulled:
            limit *= DROP_OUT_RATIO
        pulled = (np.abs(after(k)) >= limit) & (change.branch[inside] != k)[:, None]
        yield contacts, pulled != is_pulled
    for k in diodes.tolist():
        excess = after(k) - net.emf_v[k]
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
    return Network(
        nodes=net.nodes,
        node_of=net.node_of,
        reference=net.reference,
        segments=(*net.segments, "instrument"),
        a=np.append(net.a, a),
        b=np.append(net.b, b),
        g_s=np.append(net.g_s, 1.0 / ohm),
        emf_v=np.append(net.emf_v, 0.0),
        limit=np.append(net.limit, 0.0),
        role=np.append(net.role, int(Role.FIXED)),
        coil_of=np.append(net.coil_of, -1),
        branch_of={**net.branch_of, "instrument": len(net.segments)},
    )
