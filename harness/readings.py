"""What an instrument between two points would show, for many faults at once.

A meter or lamp of resistance ``R`` between `probe` and `clip` sees the network as a
source ``open_v`` behind ``inner_ohm``. A test lamp can light filaments that were dark
and so change the network; where it would, the filaments are settled anew with it in.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from harness.circuit import BoolArray, FloatArray, IntArray, Network, with_extra
from harness.edit_arrays import EditArrays
from harness.errors import SingularNetwork
from harness.groups import Group
from harness.relit import volts_over
from harness.solver import solve_network, together
from harness.tables import Build, RigTable
from harness.thevenin import Between
from harness.turning import turned_over

VOLTMETER_OHM = 1e7
TEST_LAMP_WATTS = 3.0
OPEN_ABOVE_OHM = 1e6


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
    """Return the amperes through some wires, shape (m, n_branches).

    A clamp around a wire changes nothing. It is put round the end at which the wire
    begins: where the wire has chafed through at its middle, round the first half.
    """
    out = np.full((len(rows), len(branch)), np.nan)
    for number, inside, where in _by_group(table, rows):
        group = table.groups[number]
        amps = group.special_amps(branch) + _leaving(group, table.build.made, branch)
        out[where] = amps[inside]
    return out


def _leaving(group: Group, made: EditArrays, branch: IntArray) -> FloatArray:
    """Return what each wire's first half has more, where it has chafed through.

    Returns
    -------
    ndarray of float, shape (m, n_branches)
    """
    out = np.zeros((len(group.rows), len(branch)))
    mine = made.rows(group.rows)
    for edit in range(mine.kind.shape[1]):
        middle = mine.middle[:, edit]
        if (middle >= 0).any():
            at = group.sight.at[mine.node[:, edit]]
            volts = np.take_along_axis(group.volts, at, axis=1)
            drop_v = (volts * mine.weight[:, edit]).sum(axis=1)
            amps = drop_v / np.where(mine.ohm[:, edit] > 0, mine.ohm[:, edit], np.inf)
            for end, sign in ((0, 0.5), (1, -0.5)):
                hit = middle[:, end, None] == branch
                out += np.where(hit, sign * amps[:, None], 0.0)
    return out


def test_lamp_v(
    table: RigTable, rows: IntArray, probe: IntArray, clip: IntArray
) -> FloatArray:
    """Return the volts across a test lamp, probe minus clip, shape (m, n_pairs)."""
    return _read(table, rows, probe, clip, test_lamp_ohm(table.h.volts))


def _read(
    table: RigTable, rows: IntArray, probe: IntArray, clip: IntArray, ohm: float
) -> FloatArray:
    """Return the volts across a resistance between two points."""
    out = np.full((len(rows), len(probe)), np.nan)
    connected = _Connected(table.build, ohm)
    for number, inside, where in _by_group(table, rows):
        between = Between.of(table.groups[number], inside, probe, clip)
        everywhere = np.ones((len(inside), len(probe)), dtype=np.bool_)
        out[where] = connected.read(between, everywhere)
    return out


@dataclass(frozen=True)
class _Connected:
    """A resistance that is held between two points.

    Nothing is kept of the states that it turns a network over to but their
    factorisation: readings are remembered by whoever asks for them.
    """

    build: Build
    ohm: float

    def read(
        self, between: Between, wanted: BoolArray, seen: frozenset[bytes] = frozenset()
    ) -> FloatArray:
        """Return the volts once nothing turns over any more, NaN without rest."""
        base = between.group.base
        shown, relit = volts_over(between, self.ohm)
        turned = turned_over(between, shown / self.ohm, relit)
        turned = np.where(wanted, turned, -1)
        before = seen | {base.on.tobytes()}
        for branch in np.unique(turned[turned >= 0]).tolist():
            on, mask = base.on.copy(), turned == branch
            on[list(together(base.net, branch))] ^= True
            if on.tobytes() not in before:
                shown = np.where(mask, self._turned(between, on, mask, before), shown)
            elif base.net.coil_of[branch] >= 0:
                # A relay that buzzes; of a diode, either state is near enough.
                shown = np.where(mask, np.nan, shown)
        return shown

    def _turned(
        self, between: Between, on: BoolArray, mask: BoolArray, seen: frozenset[bytes]
    ) -> FloatArray:
        """Read again, in another state, where the mask says so."""
        out = np.full(mask.shape, np.nan)
        hit, columns = (np.flatnonzero(mask.any(axis=axis)) for axis in (1, 0))
        try:
            groups = tuple(
                self.build.solve(on, between.group.rows[between.inside[hit]])
            )
        except SingularNetwork:
            return out
        for group in groups:
            count = len(group.rows)
            every = np.arange(count, dtype=np.intp)
            spot = np.ix_(hit[:count], columns)
            again = Between.of(
                group, every, between.probe[columns], between.clip[columns]
            )
            out[spot] = self.read(again, mask[spot], seen)
            hit = hit[count:]
        return out


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
