"""Sets of faults in one rig, from few factorisations.

Faults are solved together in the discrete state that the healthy circuit has; those
that make a fuse, relay or diode go over to another state are solved together again in
that state, until all agree. A set that finds no rest is marked, never guessed.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np

from harness.bases import Base, factorise
from harness.circuit import BoolArray, FloatArray, IntArray, Network, Role
from harness.edit_arrays import NONE, EditArrays, edit_arrays
from harness.errors import SingularNetwork
from harness.faults import with_fault
from harness.filaments import Filaments, settle_many
from harness.model import Harness
from harness.network import compile_network
from harness.ports import Changes, Sight, changes
from harness.rig import Rig
from harness.segments import Fault
from harness.solver import (
    DROP_OUT_RATIO,
    FUSE_OPENS_AT,
    rest_state,
    solve_network,
    together,
)

MAX_ROUNDS = 32
DIODE_TOLERANCE_V = 1e-6

# Which branches conduct in a discrete state.
State = bytes


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
    volts : ndarray of float, shape (m, n_seen)
        The operating points.
    """

    sight: Sight
    rows: IntArray
    change: Changes
    lamp_v: FloatArray
    volts: FloatArray

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
        net = self.base.net
        drop = self.drops(branches)
        g_s = np.where(self.base.on[branches], net.g_s[branches], 0.0)
        amps = g_s * (drop - net.emf_v[branches])
        change = self.change
        for edit in range(change.branch.shape[1]):
            hit = change.branch[:, edit, None] == branches[None, :]
            changed = change.branch_s[:, edit, None] * (
                drop - change.branch_emf_v[:, edit, None]
            )
            amps = np.where(hit, changed, amps)
        out: FloatArray = amps
        return out

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


@dataclass(frozen=True)
class RigTable:
    """Operating points of many sets of faults in one rig.

    Attributes
    ----------
    count : int
    groups : tuple of Group
    group_of, row_in_group : ndarray of intp, shape (count,)
        Where each set's solution is; -1 where it finds no rest.
    """

    h: Harness
    rig: Rig
    net: Network
    count: int
    groups: tuple[Group, ...]
    group_of: IntArray
    row_in_group: IntArray
    build: "Build" = field(repr=False)

    def alternate(
        self, number: int, flipped: tuple[int, ...], inside: IntArray
    ) -> tuple[Group, ...] | None:
        """Solve some of a group's sets with some branches in their other state.

        What an instrument turns over (a diode, a relay) is read there. Nothing is
        kept but the factorisation: readings are remembered by whoever asks for them.

        Returns
        -------
        tuple of Group or None
            Its rows in the order of `inside`; None where the filaments find no rest.
        """
        group = self.groups[number]
        on = group.base.on.copy()
        on[list(flipped)] ^= True
        try:
            return tuple(self.build.solve(on, group.rows[inside]))
        except SingularNetwork:
            return None

    def lamp_drops(self) -> FloatArray:
        """Return the volts over every filament, shape (count, n_lamps)."""
        return self._gather([group.lamp_v for group in self.groups])

    def node_volts(self) -> FloatArray:
        """Return the volts of every node seen, shape (count, n_seen)."""
        return self._gather([group.volts for group in self.groups])

    def between(self, one: int, other: int) -> FloatArray:
        """Return the volts between two nodes, NaN without rest, shape (count,)."""
        parts = []
        for group in self.groups:
            at = group.sight.at
            parts.append(group.volts[:, [at[one]]] - group.volts[:, [at[other]]])
        return self._gather(parts)[:, 0]

    def _gather(self, parts: list[FloatArray]) -> FloatArray:
        width = parts[0].shape[1] if parts else 1
        out = np.full((self.count, width), np.nan)
        for group, part in zip(self.groups, parts, strict=True):
            out[group.rows] = part
        return out

    def blown(self) -> list[frozenset[str]]:
        """Return the fuses that each set has opened."""
        fuses = self.net.of_role(Role.FUSE)
        out: list[frozenset[str]] = [frozenset()] * self.count
        for group in self.groups:
            opened = [k for k in fuses.tolist() if not group.base.on[k]]
            names = frozenset(self.net.segments[k] for k in opened)
            for row in group.rows.tolist():
                out[row] = names
        return out


# Sets solved at one time: more only fall out of the processor's cache.
CHUNK = 2048


@dataclass
class Build:
    """The state of one table while it is being built.

    Attributes
    ----------
    made : EditArrays
        The edits of every set.
    opened : sequence of frozenset of str
        For each set the fuses that it had already opened before.
    nodes : ndarray of intp or None
        The nodes that will be looked at; None for all.
    """

    net: Network
    made: EditArrays
    opened: Sequence[frozenset[str]]
    nodes: IntArray | None = None
    sights: dict[bytes, Sight] = field(default_factory=dict)

    def at_rest(self, row: int) -> State:
        """Return the state from which a set starts: at rest, its fuses open."""
        return rest_state(self.net, self.gone(row)).tobytes()

    def gone(self, row: int) -> tuple[int, ...]:
        """Return the fuses that a set has opened before, as branches."""
        if not self.opened or not self.opened[row]:
            return ()
        known = sorted(self.opened[row] & self.net.branch_of.keys())
        return tuple(self.net.branch_of[fuse] for fuse in known)

    def sight(self, on: BoolArray) -> Sight:
        """Return the nodes looked at in a discrete state."""
        state = on.tobytes()
        if state not in self.sights:
            self.sights[state] = Sight.of(factorise(self.net, state), self.nodes)
        return self.sights[state]

    def solve(self, on: BoolArray, rows: IntArray) -> Iterator[Group]:
        """Yield groups of rows, together in the order of `rows`.

        Raises
        ------
        SingularNetwork
            When the filaments find no rest.
        """
        sight = self.sight(on)
        for start in range(0, len(rows), CHUNK):
            yield _solved(sight, self.made, rows[start : start + CHUNK])


def _solved(sight: Sight, made: EditArrays, rows: IntArray) -> Group:
    base = sight.base
    change = changes(sight, made.rows(rows))
    columns = sight.lamp_columns
    lamp_z = sight.across_lamps(change.z_ohm)
    open_v = sight.across_lamps(change.volts)
    port = sight.across_lamps(columns.T).T if columns.size else columns[:0]
    z = port[None] - np.einsum(
        "mti,mtj->mij", change.kappa_s[:, :, None] * lamp_z, lamp_z
    )
    lit = _lit(open_v, z)
    lamp_v = np.zeros_like(open_v)
    filaments = base.filaments
    some = Filaments(
        filaments.hot_s[lit], filaments.rated_v[lit], filaments.fixed_s[lit]
    )
    lamp_v[:, lit] = settle_many(
        some, open_v[:, lit], z[:, lit][:, :, lit], change.intact[:, lit]
    )
    excess = np.where(change.intact, filaments.excess_amps(lamp_v), 0.0)
    moved = np.einsum("mtl,ml->mt", lamp_z, excess) * change.kappa_s
    volts = change.volts - excess @ columns.T
    volts += np.einsum("mt,mtn->mn", moved, change.z_ohm)
    return Group(sight, rows, change, lamp_v, volts)


def _lit(open_v: FloatArray, z_ohm: FloatArray) -> IntArray:
    """Return the filaments that any set puts volts on; the others stay cold."""
    lit = (np.abs(open_v) > DARK_V).any(axis=0)
    coupled = (np.abs(z_ohm) > DARK_V).any(axis=0)
    for _ in range(len(lit)):
        reached = lit | coupled[:, lit].any(axis=1)
        if (reached == lit).all():
            break
        lit = reached
    return np.flatnonzero(lit)


DARK_V = 1e-12


def _contradictions(group: Group) -> IntArray:
    """Return for each set the branch to go over to its other state.

    The order is that of `solver.disagreement`. -1 says that all agree.
    """
    base, net = group.base, group.base.net
    out = np.full(len(group.rows), -1, dtype=np.intp)
    contacts = np.flatnonzero(net.coil_of >= 0)
    if contacts.size:
        coils = net.coil_of[contacts]
        coil_v = np.where(group.cut(coils), 0.0, np.abs(group.drops(coils)))
        on = base.on[contacts]
        pulled = np.where(net.role[contacts] == Role.MAKE, on, ~on)
        lets_go = pulled & (coil_v < DROP_OUT_RATIO * net.limit[contacts])
        out = np.where(lets_go.any(axis=1), contacts[lets_go.argmax(axis=1)], out)
    fuses = net.of_role(Role.FUSE)
    if fuses.size:
        load = np.abs(group.special_amps(fuses)) / net.limit[fuses]
        worst = load.argmax(axis=1)
        over = load[np.arange(len(out)), worst] > FUSE_OPENS_AT
        out = np.where(over, fuses[worst], out)
    if contacts.size:
        pulls_in = ~pulled & (coil_v >= net.limit[contacts])
        out = np.where(pulls_in.any(axis=1), contacts[pulls_in.argmax(axis=1)], out)
    diodes = net.of_role(Role.DIODE)
    if diodes.size:
        back_v = -group.special_amps(diodes) / net.g_s[diodes]
        over_v = group.drops(diodes) - net.emf_v[diodes]
        excess = np.where(base.on[diodes], back_v, over_v)
        worst = excess.argmax(axis=1)
        wrong_way = excess[np.arange(len(out)), worst] > DIODE_TOLERANCE_V
        out = np.where(wrong_way, diodes[worst], out)
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
    made = edit_arrays(h, net, faults)
    return solve_edits(h, rig, Build(net, made, opened or ()))


def solve_edits(h: Harness, rig: Rig, build: Build) -> RigTable:
    """Find the operating point of every set of edits in a rig.

    Raises
    ------
    SingularNetwork
        When the healthy network has no operating point.
    """
    net, count = build.net, len(build.made.kind)
    waiting: dict[State, list[int]] = defaultdict(list)
    healthy = solve_network(net).on.tobytes()
    # A relay's state depends on how it came there, so with one all start from rest.
    from_rest = bool((net.coil_of >= 0).any())
    for row in range(count):
        start = build.at_rest(row) if from_rest or build.gone(row) else healthy
        waiting[start].append(row)
    groups: list[Group] = []
    for _ in range(MAX_ROUNDS):
        waiting, settled = _round(build, waiting)
        groups += settled
        if not waiting:
            break
    group_of = np.full(count, -1, dtype=np.intp)
    row_in_group = np.full(count, -1, dtype=np.intp)
    for number, group in enumerate(groups):
        group_of[group.rows] = number
        row_in_group[group.rows] = np.arange(len(group.rows))
    return RigTable(h, rig, net, count, tuple(groups), group_of, row_in_group, build)


def _round(
    build: Build, waiting: dict[State, list[int]]
) -> tuple[dict[State, list[int]], list[Group]]:
    """Solve what waits, state by state; return what must go on, and what settled."""
    onward: dict[State, list[int]] = defaultdict(list)
    settled: list[Group] = []
    for state in sorted(waiting):
        on = np.frombuffer(state, dtype=np.bool_)
        rows = np.array(waiting[state], dtype=np.intp)
        for part in _by_length(build.made, rows):
            try:
                for group in build.solve(on, part):
                    settled += _sorted_out(build, group, onward)
            except SingularNetwork:
                continue
    return onward, settled


def _by_length(made: EditArrays, rows: IntArray) -> Iterator[IntArray]:
    """Yield rows with equally many edits together, so that none carries blanks."""
    length = (made.kind[rows] != NONE).sum(axis=1)
    for count in np.unique(length).tolist():
        yield rows[length == count]


def _sorted_out(
    build: Build, group: Group, onward: dict[State, list[int]]
) -> list[Group]:
    """Return the sets of a group that stay; put the others where they go on."""
    flips = _contradictions(group)
    stay, on = flips == -1, group.base.on
    for row, branch in zip(
        group.rows[~stay].tolist(), flips[~stay].tolist(), strict=True
    ):
        other = on.copy()
        other[list(together(build.net, branch))] ^= True
        onward[other.tobytes()].append(row)
    if stay.all():
        return [group]
    return [_some(group, stay)] if stay.any() else []


def _some(group: Group, keep: BoolArray) -> Group:
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
    return Group(
        group.sight, group.rows[keep], change, group.lamp_v[keep], group.volts[keep]
    )
