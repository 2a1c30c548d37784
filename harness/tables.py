"""Sets of faults in one rig, from few factorisations.

Faults are solved together in the discrete state that the healthy circuit has; those
that make a fuse, relay or diode go over to another state are solved together again in
that state, until all agree. A set that finds no rest is marked, never guessed.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np

from harness.bases import factorise
from harness.circuit import BoolArray, FloatArray, IntArray, Network, Role
from harness.edit_arrays import NONE, EditArrays, edit_arrays, edits_of_nothing
from harness.errors import SingularNetwork
from harness.groups import Group, contradictions, solve_group, some_of
from harness.model import Harness
from harness.network import compile_network
from harness.rig import Rig
from harness.segments import Fault
from harness.sights import Sight
from harness.solver import rest_state, together

__all__ = ["Build", "Group", "RigTable", "solve_edits", "solve_faults"]

MAX_ROUNDS = 32

# Which branches conduct in a discrete state.
State = bytes


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

    def lamp_drops(self) -> FloatArray:
        """Return the volts over every filament, shape (count, n_lamps)."""
        width = len(self.net.of_role(Role.LAMP))
        return self._gather([group.lamp_v for group in self.groups], width)

    def node_volts(self) -> FloatArray:
        """Return the volts of every node seen, shape (count, n_seen)."""
        seen = self.build.nodes
        width = len(self.net.nodes) if seen is None else len(seen)
        return self._gather([group.volts for group in self.groups], width)

    def between(self, one: int, other: int) -> FloatArray:
        """Return the volts between two nodes, NaN without rest, shape (count,)."""
        parts = []
        for group in self.groups:
            at = group.sight.at
            parts.append(group.volts[:, [at[one]]] - group.volts[:, [at[other]]])
        return self._gather(parts, 1)[:, 0]

    def _gather(self, parts: list[FloatArray], width: int) -> FloatArray:
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
CHUNK = 512


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
            yield solve_group(sight, self.made, rows[start : start + CHUNK])


def solve_faults(
    h: Harness,
    rig: Rig,
    faults: Sequence[Fault | None],
    opened: Sequence[frozenset[str]] | None = None,
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

    Raises
    ------
    SingularNetwork
        When the healthy network has no operating point.
    """
    net = compile_network(h, rig)
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
    waiting = _started(build)
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
    # The states that were only passed through hold a matrix each.
    build.sights = {group.base.on.tobytes(): group.sight for group in groups}
    return RigTable(h, rig, net, count, tuple(groups), group_of, row_in_group, build)


def _started(build: Build) -> dict[State, list[int]]:
    """Return the sets by the state from which each starts.

    With nothing switched by current but diodes, the healthy bike's state is as good as
    any. A relay's state depends on how it came there, so with one all start from rest,
    as does a set whose fuses have gone.
    """
    net = build.net
    healthy = _healthy_state(build)
    from_rest = bool((net.coil_of >= 0).any())
    by_gone: dict[tuple[int, ...], list[int]] = defaultdict(list)
    for row in range(len(build.made.kind)):
        by_gone[build.gone(row)].append(row)
    waiting: dict[State, list[int]] = defaultdict(list)
    for gone, rows in by_gone.items():
        at_rest = rest_state(net, gone).tobytes()
        waiting[at_rest if from_rest or gone else healthy] += rows
    return waiting


def _healthy_state(build: Build) -> State:
    """Return the discrete state that the healthy bike comes to.

    Raises
    ------
    SingularNetwork
        When it comes to none.
    """
    net = build.net
    nothing = edits_of_nothing()
    on, row, branch = rest_state(net), np.zeros(1, dtype=np.intp), -1
    for _ in range(MAX_ROUNDS):
        group = solve_group(build.sight(on), nothing, row)
        branch = int(contradictions(group)[0])
        if branch < 0:
            return on.tobytes()
        on = on.copy()
        on[list(together(net, branch))] ^= True
    raise SingularNetwork((f"{net.segments[branch]} switches to and fro without rest",))


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
    flips = contradictions(group)
    stay, on = flips == -1, group.base.on
    for branch in np.unique(flips[~stay]).tolist():
        other = on.copy()
        other[list(together(build.net, branch))] ^= True
        onward[other.tobytes()] += group.rows[flips == branch].tolist()
    if stay.all():
        return [group]
    return [some_of(group, stay)] if stay.any() else []
