"""What an instrument between two points would show, for many faults at once.

A meter or lamp of resistance ``R`` between `probe` and `clip` sees the network as a
source ``open_v`` behind ``inner_ohm``. A test lamp can light filaments that were dark
and so change the network; where it would, the filaments are settled anew with it in.
"""

from collections.abc import Iterator

import numpy as np

from harness.circuit import BoolArray, FloatArray, IntArray, Network, Role, with_extra
from harness.errors import SingularNetwork
from harness.groups import Group
from harness.relit import volts_over
from harness.solver import DROP_OUT_RATIO, solve_network
from harness.tables import RigTable
from harness.thevenin import Between, Relit

VOLTMETER_OHM = 1e7
TEST_LAMP_WATTS = 3.0
OPEN_ABOVE_OHM = 1e6
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
        inner = Between.of(table.groups[number], inside, probe, clip).inner_ohm
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
        between = Between.of(table.groups[number], inside, probe, clip)
        shown, relit = volts_over(between, ohm)
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
    return volts_over(Between.of(group, every, probe, clip), ohm)[0]


def _switched_over(
    between: Between, amps: FloatArray, relit: Relit | None
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
