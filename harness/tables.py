"""Every single fault of a harness in one rig, from few factorisations.

Faults are solved together in the discrete state that the healthy circuit has; those
that make a fuse, relay or diode go over to another state are solved together again in
that state, until all agree. A fault that finds no rest is marked, never guessed.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from harness.bases import Base, factorise
from harness.circuit import BoolArray, FloatArray, IntArray, Network, Role
from harness.errors import SingularNetwork
from harness.faults import Fault, with_fault
from harness.filaments import settle_many
from harness.model import Harness
from harness.network import compile_network
from harness.ports import Changes, changes
from harness.rig import Rig
from harness.solver import (
    DROP_OUT_RATIO,
    FUSE_OPENS_AT,
    rest_state,
    solve_network,
    together,
)

MAX_ROUNDS = 32
DIODE_TOLERANCE_V = 1e-6

# Whether a discrete state was reached from rest, and which branches conduct in it.
State = tuple[bool, bytes]


@dataclass(frozen=True)
class Group:
    """Faults that share a discrete state.

    Attributes
    ----------
    base : Base
    rows : ndarray of intp, shape (m,)
        Which faults of the table.
    change : Changes
        Of those faults, in the same order.
    lamp_v : ndarray of float, shape (m, n_lamps)
    volts : ndarray of float, shape (m, n_nodes)
        The operating points.
    """

    base: Base
    rows: IntArray
    change: Changes
    lamp_v: FloatArray
    volts: FloatArray

    def special_amps(self, branches: IntArray) -> FloatArray:
        """Return the current of some branches (not filaments) for each fault.

        Returns
        -------
        ndarray of float, shape (m, len(branches)), amperes
        """
        net = self.base.net
        drop = self.drops(branches)
        g_s = np.where(self.base.on[branches], net.g_s[branches], 0.0)
        amps = g_s * (drop - net.emf_v[branches])
        hit = self.change.branch[:, None] == branches[None, :]
        changed = self.change.branch_s[:, None] * (
            drop - self.change.branch_emf_v[:, None]
        )
        out: FloatArray = np.where(hit, changed, amps)
        return out

    def drops(self, branches: IntArray) -> FloatArray:
        """Return the volts over some branches, shape (m, len(branches))."""
        net = self.base.net
        drop: FloatArray = (
            self.volts[:, net.a[branches]] - self.volts[:, net.b[branches]]
        )
        return drop


@dataclass(frozen=True)
class RigTable:
    """Operating points of every fault in one rig.

    Attributes
    ----------
    faults : tuple of Fault or None
        One row each; None is the healthy bike.
    groups : tuple of Group
    group_of, row_in_group : ndarray of intp, shape (n_faults,)
        Where each fault's solution is; -1 where it finds no rest.
    """

    h: Harness
    rig: Rig
    net: Network
    faults: tuple[Fault | None, ...]
    groups: tuple[Group, ...]
    group_of: IntArray
    row_in_group: IntArray
    build: "_Build" = field(repr=False)

    def alternate(
        self, number: int, flipped: tuple[int, ...], inside: IntArray
    ) -> Group | None:
        """Solve some of a group's faults with some branches in their other state.

        What an instrument turns over (a diode, a relay) is read there. Nothing is
        kept but the factorisation: readings are remembered by whoever asks for them.

        Returns
        -------
        Group or None
            Its rows in the order of `inside`; None where the filaments find no rest.
        """
        group = self.groups[number]
        on = group.base.on.copy()
        on[list(flipped)] ^= True
        try:
            return self.build.solve(on, group.rows[inside])
        except SingularNetwork:
            return None

    def lamp_drops(self) -> FloatArray:
        """Return the volts over every filament, shape (n_faults, n_lamps)."""
        return self._gather([group.lamp_v for group in self.groups])

    def node_volts(self) -> FloatArray:
        """Return the volts of every node, shape (n_faults, n_nodes)."""
        return self._gather([group.volts for group in self.groups])

    def _gather(self, parts: list[FloatArray]) -> FloatArray:
        width = parts[0].shape[1]
        out = np.full((len(self.faults), width), np.nan)
        for group, part in zip(self.groups, parts, strict=True):
            out[group.rows] = part
        return out

    def blown(self) -> list[frozenset[str]]:
        """Return the fuses that each fault has opened."""
        fuses = self.net.of_role(Role.FUSE)
        out: list[frozenset[str]] = [frozenset()] * len(self.faults)
        for group in self.groups:
            opened = [k for k in fuses.tolist() if not group.base.on[k]]
            names = frozenset(self.net.segments[k] for k in opened)
            for row in group.rows.tolist():
                out[row] = names
        return out


@dataclass
class _Build:
    """The state of one table while it is being built."""

    h: Harness
    net: Network
    faults: Sequence[Fault | None]
    opened: Sequence[frozenset[str]]

    def at_rest(self, row: int) -> State:
        """Return the state from which a fault starts: at rest, its fuses open."""
        return True, rest_state(self.net, self.gone(row)).tobytes()

    def gone(self, row: int) -> tuple[int, ...]:
        """Return the fuses that a fault has opened before, as branches."""
        known = sorted(self.opened[row] & self.net.branch_of.keys())
        return tuple(self.net.branch_of[fuse] for fuse in known)

    def solve(self, on: BoolArray, rows: IntArray) -> Group:
        base = factorise(self.net, on.tobytes())
        nothing = Fault("", "open")
        change = changes(
            self.h, base, [self.faults[row] or nothing for row in rows.tolist()]
        )
        lamp_z = base.across_lamps(change.z_ohm)
        columns = base.lamp_columns
        port = base.across_lamps(columns.T).T if columns.size else columns[:0]
        z = port[None] - change.kappa_s[:, None, None] * (
            lamp_z[:, :, None] * lamp_z[:, None, :]
        )
        open_v = base.across_lamps(change.volts)
        lamp_v = settle_many(base.filaments, open_v, z, change.intact)
        excess = np.where(change.intact, base.filaments.excess_amps(lamp_v), 0.0)
        volts = change.volts - excess @ columns.T
        volts += (change.kappa_s * np.einsum("ml,ml->m", lamp_z, excess))[
            :, None
        ] * change.z_ohm
        return Group(base, rows, change, lamp_v, volts)


RESTART = -2


def _contradictions(group: Group, *, from_rest: bool) -> IntArray:
    """Return for each fault the branch to go over to its other state.

    The order is that of `solver.disagreement`. -1 says that all agree. In a state that
    was not reached from rest, a relay whose coil is not clearly on its side says
    `RESTART`: whether it holds depends on how it came there.
    """
    base, net = group.base, group.base.net
    out = np.full(len(group.rows), -1, dtype=np.intp)
    contacts = np.flatnonzero(net.coil_of >= 0)
    pulls_in = lets_go = np.zeros((len(out), len(contacts)), dtype=bool)
    if contacts.size:
        coil_v = np.abs(group.drops(net.coil_of[contacts]))
        cut = group.change.branch[:, None] == net.coil_of[contacts][None, :]
        coil_v = np.where(cut, 0.0, coil_v)
        on = base.on[contacts]
        pulled = np.where(net.role[contacts] == Role.MAKE, on, ~on)
        ratio = DROP_OUT_RATIO if from_rest else 1.0
        pulls_in = ~pulled & (coil_v >= net.limit[contacts])
        lets_go = pulled & (coil_v < ratio * net.limit[contacts])
        out = np.where(lets_go.any(axis=1), contacts[lets_go.argmax(axis=1)], out)
    fuses = net.of_role(Role.FUSE)
    if fuses.size:
        load = np.abs(group.special_amps(fuses)) / net.limit[fuses]
        worst = load.argmax(axis=1)
        over = load[np.arange(len(out)), worst] > FUSE_OPENS_AT
        out = np.where(over, fuses[worst], out)
    if contacts.size:
        out = np.where(pulls_in.any(axis=1), contacts[pulls_in.argmax(axis=1)], out)
        if not from_rest:
            unsure = pulls_in.any(axis=1) | lets_go.any(axis=1)
            out = np.where(unsure, RESTART, out)
    diodes = net.of_role(Role.DIODE)
    if diodes.size:
        back_v = -group.special_amps(diodes) / net.g_s[diodes]
        over_v = group.drops(diodes) - net.emf_v[diodes]
        excess = np.where(base.on[diodes], back_v, over_v)
        worst = excess.argmax(axis=1)
        wrong_way = excess[np.arange(len(out)), worst] > DIODE_TOLERANCE_V
        out = np.where(wrong_way & (out != RESTART), diodes[worst], out)
    return out


def solve_faults(
    h: Harness,
    rig: Rig,
    faults: Sequence[Fault | None],
    opened: Sequence[frozenset[str]] | None = None,
    standing: Fault | None = None,
) -> RigTable:
    """Find the operating point of every fault in a rig.

    Parameters
    ----------
    h : Harness
    rig : Rig
    faults : sequence of Fault or None
        None stands for the healthy bike.
    opened : sequence of frozenset of str, optional
        For each fault the fuses that it had already opened before.
    standing : Fault, optional
        A fault that is there in any case, beside each of the others.

    Raises
    ------
    SingularNetwork
        When the healthy network has no operating point.
    """
    net = compile_network(h, rig)
    if standing is not None:
        net = with_fault(h, net, standing)
    build = _Build(h, net, faults, opened or [frozenset()] * len(faults))
    healthy = solve_network(net, blown=build.gone(0)).on
    waiting: dict[State, list[int]] = defaultdict(list)
    for row in range(len(faults)):
        start = build.at_rest(row)
        waiting[start if opened and opened[row] else (False, healthy.tobytes())].append(
            row
        )
    groups: list[Group] = []
    for _ in range(MAX_ROUNDS):
        waiting, settled = _round(build, waiting)
        groups += settled
        if not waiting:
            break
    group_of = np.full(len(faults), -1, dtype=np.intp)
    row_in_group = np.full(len(faults), -1, dtype=np.intp)
    for number, group in enumerate(groups):
        group_of[group.rows] = number
        row_in_group[group.rows] = np.arange(len(group.rows))
    return RigTable(
        h, rig, net, tuple(faults), tuple(groups), group_of, row_in_group, build
    )


def _round(
    build: _Build, waiting: dict[State, list[int]]
) -> tuple[dict[State, list[int]], list[Group]]:
    """Solve what waits, state by state; return what must go on, and what settled."""
    onward: dict[State, list[int]] = defaultdict(list)
    settled: list[Group] = []
    for state in sorted(waiting):
        from_rest, key = state
        on = np.frombuffer(key, dtype=np.bool_)
        rows = np.array(waiting[state], dtype=np.intp)
        try:
            group = build.solve(on, rows)
        except SingularNetwork:
            continue
        flips = _contradictions(group, from_rest=from_rest)
        stay = flips == -1
        if stay.any():
            settled.append(group if stay.all() else build.solve(on, rows[stay]))
        for row, branch in zip(
            rows[~stay].tolist(), flips[~stay].tolist(), strict=True
        ):
            if branch == RESTART:
                onward[build.at_rest(row)].append(row)
            else:
                other = on.copy()
                other[list(together(build.net, branch))] ^= True
                onward[from_rest, other.tobytes()].append(row)
    return onward, settled
