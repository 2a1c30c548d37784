"""A circuit as arrays: nodes and two-pole branches.

Model
-----
Every branch runs from node `a` to node `b` and carries ``i = g (v_a - v_b - e)`` while
it conducts, with `g` in siemens and `e` in volts; a lamp's `g` depends on its voltage.
A body's pins are one node. A joint is a star of contacts around a node of its own.
Roles say which branches may change state: fuses blow, diodes block, relay contacts
follow their coil.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.intp]
BoolArray = NDArray[np.bool_]


class Role(IntEnum):
    """What may change a branch while the operating point is sought."""

    FIXED = 0
    SOURCE = 1
    LAMP = 2
    FUSE = 3
    DIODE = 4
    MAKE = 5
    BREAK = 6


@dataclass(frozen=True, slots=True)
class Branch:
    """One two-pole between two named nodes.

    `limit` is the rating of a fuse (A), the rated volts of a lamp, or the pull-in
    volts of the relay whose contact this is; `coil` names that relay's coil segment.
    """

    segment: str
    a: str
    b: str
    ohm: float
    emf_v: float = 0.0
    role: Role = Role.FIXED
    limit: float = 0.0
    coil: str = ""


@dataclass(frozen=True, eq=False)
class Network:
    """Branches and nodes as arrays; see the module's docstring for signs.

    Attributes
    ----------
    nodes : tuple of str
        One name a node.
    node_of : dict of str to int
        Every terminal to its node.
    reference : int
        The node at zero volts.
    segments : tuple of str
        One name a branch.
    a, b : ndarray of intp, shape (n_branches,)
    g_s, emf_v, limit : ndarray of float, shape (n_branches,)
        Conductance when conducting (S), source voltage (V), see `Branch.limit`.
    role : ndarray of intp, shape (n_branches,)
    coil_of : ndarray of intp, shape (n_branches,)
        For relay contacts the branch of the coil, else -1.
    absent : frozenset of str
        Ids of devices that are taken out.
    """

    nodes: tuple[str, ...]
    node_of: dict[str, int]
    reference: int
    segments: tuple[str, ...]
    a: IntArray
    b: IntArray
    g_s: FloatArray
    emf_v: FloatArray
    limit: FloatArray
    role: IntArray
    coil_of: IntArray
    branch_of: dict[str, int] = field(default_factory=dict)
    absent: frozenset[str] = frozenset()

    def of_role(self, *roles: Role) -> IntArray:
        """Return the indices of branches with one of these roles."""
        return np.flatnonzero(np.isin(self.role, [int(role) for role in roles]))


class CircuitError(ValueError):
    """A circuit that was put together wrongly."""


@dataclass
class Circuit:
    """A plain circuit, put together branch by branch.

    Harnesses are compiled through it, and worked examples from books are built on
    it directly.

    Examples
    --------
    >>> circuit = Circuit(reference="0")
    >>> circuit.add_source("top", "0", volts=12.0, ohm=0.001)
    >>> circuit.add_resistor("top", "0", ohm=6.0, segment="R1")
    >>> circuit.network().segments
    ('source1', 'R1')
    """

    reference: str
    branches: list[Branch] = field(default_factory=list)
    aliases: dict[str, str] = field(default_factory=dict)
    extra_nodes: list[str] = field(default_factory=list)
    absent: frozenset[str] = frozenset()

    def add(self, branch: Branch) -> None:
        """Add a branch; its resistance must be positive and finite."""
        if not (np.isfinite(branch.ohm) and branch.ohm > 0):
            raise CircuitError(f"{branch.segment}: {branch.ohm} ohm is not positive")
        self.branches.append(branch)

    def add_resistor(self, a: str, b: str, *, ohm: float, segment: str = "") -> None:
        """Add a resistance."""
        self.add(Branch(segment or f"resistor{len(self.branches) + 1}", a, b, ohm))

    def add_source(
        self, pos: str, neg: str, *, volts: float, ohm: float, segment: str = ""
    ) -> None:
        """Add a source behind a resistance."""
        name = segment or f"source{len(self.branches) + 1}"
        self.add(Branch(name, pos, neg, ohm, emf_v=volts, role=Role.SOURCE))

    def add_diode(
        self, anode: str, cathode: str, *, drop_v: float, ohm: float, segment: str = ""
    ) -> None:
        """Add a diode: a drop and a resistance, one way only."""
        name = segment or f"diode{len(self.branches) + 1}"
        self.add(Branch(name, anode, cathode, ohm, emf_v=drop_v, role=Role.DIODE))

    def add_lamp(
        self, a: str, b: str, *, watts: float, at_volts: float, segment: str = ""
    ) -> None:
        """Add a filament; `ohm` of the branch is its hot resistance."""
        name = segment or f"lamp{len(self.branches) + 1}"
        hot_ohm = at_volts**2 / watts
        self.add(Branch(name, a, b, hot_ohm, role=Role.LAMP, limit=at_volts))

    def network(self) -> Network:
        """Freeze the circuit into arrays, nodes in order of appearance."""
        names: dict[str, int] = {}

        def node(terminal: str) -> int:
            return names.setdefault(self.aliases.get(terminal, terminal), len(names))

        reference = node(self.reference)
        ends = [(node(branch.a), node(branch.b)) for branch in self.branches]
        for terminal in self.extra_nodes:
            node(terminal)
        terminals = {**names}
        terminals.update({t: node(t) for t in self.aliases})
        branch_of = {branch.segment: i for i, branch in enumerate(self.branches)}
        if len(branch_of) != len(self.branches):
            raise CircuitError("two branches have the same segment name")
        return Network(
            nodes=tuple(names),
            node_of=terminals,
            reference=reference,
            segments=tuple(branch_of),
            a=np.array([a for a, _ in ends], dtype=np.intp),
            b=np.array([b for _, b in ends], dtype=np.intp),
            g_s=np.array([1.0 / branch.ohm for branch in self.branches]),
            emf_v=np.array([branch.emf_v for branch in self.branches]),
            limit=np.array([branch.limit for branch in self.branches]),
            role=np.array([int(b.role) for b in self.branches], dtype=np.intp),
            coil_of=np.array(
                [branch_of.get(branch.coil, -1) for branch in self.branches],
                dtype=np.intp,
            ),
            branch_of=branch_of,
            absent=self.absent,
        )


def with_extra(net: Network, extra: Sequence[tuple[str, int, int, float]]) -> Network:
    """Return a network with more plain resistances.

    Parameters
    ----------
    net : Network
    extra : sequence of (segment, node, node, conductance)
        A node may be new if it is the next one: it is named after the segment.
    """
    names = [name for name, _, _, _ in extra]
    ends = np.array([(a, b) for _, a, b, _ in extra], dtype=np.intp).reshape(-1, 2)
    count, first = len(extra), len(net.nodes)
    new = range(first, max(first, int(ends.max(initial=-1)) + 1))
    return replace(
        net,
        nodes=(*net.nodes, *(f"{names[0]}/{i}" for i in new)),
        segments=(*net.segments, *names),
        a=np.append(net.a, ends[:, 0]),
        b=np.append(net.b, ends[:, 1]),
        g_s=np.append(net.g_s, [g for _, _, _, g in extra]),
        emf_v=np.append(net.emf_v, np.zeros(count)),
        limit=np.append(net.limit, np.zeros(count)),
        role=np.append(net.role, np.full(count, int(Role.FIXED))),
        coil_of=np.append(net.coil_of, np.full(count, -1)),
        branch_of={
            **net.branch_of,
            **{n: len(net.segments) + i for i, n in enumerate(names)},
        },
    )
