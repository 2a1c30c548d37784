"""The operating point of a network.

Signs, stated once: a branch carries ``i = g (v_a - v_b - e)`` from `a` to `b`; volts
are against the battery's earthed pole; a branch takes up the power ``i (v_a - v_b)``.

Method: dense nodal analysis. Filaments by fixed point on their resistance and then by
Newton's steps; diodes, relay contacts and fuses by going over to the worst offender's
other state until all agree. An island with no path to the reference is held at zero
volts at one of its own nodes, through which no current can flow.
"""

from dataclasses import dataclass

import numpy as np

from harness.circuit import BoolArray, FloatArray, IntArray, Network, Role
from harness.errors import SingularNetwork
from harness.lamplaw import secant_s, tangent_s

FUSE_OPENS_AT = 1.35
# A relay that has pulled in holds down to this share of its pull-in volts (common
# practice, no source): the magnet is nearer when the contact is shut.
DROP_OUT_RATIO = 0.4
TOLERANCE_V = 1e-10
LAMP_TOLERANCE = 1e-11
NEWTON_BELOW = 0.05
MAX_LAMP_STEPS = 200
MAX_STATES = 200


@dataclass(frozen=True)
class Solution:
    """The state of a network at rest.

    Attributes
    ----------
    volts : ndarray of float, shape (n_nodes,)
    amps : ndarray of float, shape (n_branches,)
    g_s : ndarray of float, shape (n_branches,)
        Secant conductance of each branch, zero where it does not conduct.
    on : ndarray of bool, shape (n_branches,)
    blown : tuple of int
        Branches of fuses that opened, in order.
    """

    volts: FloatArray
    amps: FloatArray
    g_s: FloatArray
    on: BoolArray
    blown: tuple[int, ...]


def islands(net: Network, conducting: BoolArray) -> IntArray:
    """Label each node with the lowest node that it is joined to.

    Returns
    -------
    ndarray of intp, shape (n_nodes,)
    """
    parent = list(range(len(net.nodes)))

    def root(node: int) -> int:
        while parent[node] != node:
            parent[node] = parent[parent[node]]
            node = parent[node]
        return node

    for a, b in zip(
        net.a[conducting].tolist(), net.b[conducting].tolist(), strict=True
    ):
        one, two = root(a), root(b)
        parent[max(one, two)] = min(one, two)
    return np.array([root(node) for node in range(len(parent))], dtype=np.intp)


def anchors(net: Network, labels: IntArray) -> IntArray:
    """Return one node for each island that the reference does not reach."""
    return np.setdiff1d(labels, labels[[net.reference]])


def conductance_matrix(net: Network, g_s: FloatArray) -> FloatArray:
    """Return the nodal matrix of branch conductances, reference not yet held.

    Returns
    -------
    ndarray of float, shape (n_nodes, n_nodes), siemens
    """
    n = len(net.nodes)
    matrix = np.zeros((n, n))
    np.add.at(matrix, (net.a, net.a), g_s)
    np.add.at(matrix, (net.b, net.b), g_s)
    np.add.at(matrix, (net.a, net.b), -g_s)
    np.add.at(matrix, (net.b, net.a), -g_s)
    return matrix


def injected_amps(net: Network, g_s: FloatArray) -> FloatArray:
    """Return the current that the sources push into each node."""
    amps = np.zeros(len(net.nodes))
    np.add.at(amps, net.a, g_s * net.emf_v)
    np.add.at(amps, net.b, -g_s * net.emf_v)
    return amps


def hold(net: Network, matrix: FloatArray, held: IntArray) -> FloatArray:
    """Tie the reference and one node of every island to zero volts, in place."""
    for node in (net.reference, *held.tolist()):
        matrix[node, node] += 1.0
    return matrix


def solve_linear(net: Network, g_s: FloatArray, held: IntArray) -> FloatArray:
    """Return node volts for given conductances.

    Raises
    ------
    SingularNetwork
        When the arithmetic finds no single answer.
    """
    matrix = hold(net, conductance_matrix(net, g_s), held)
    try:
        volts = np.linalg.solve(matrix, injected_amps(net, g_s))
    except np.linalg.LinAlgError:
        raise SingularNetwork(("no single set of voltages satisfies it",)) from None
    return np.asarray(volts, dtype=np.float64)


def settle_lamps(net: Network, on: BoolArray) -> tuple[FloatArray, FloatArray]:
    """Find volts with the filaments at their own resistance.

    Returns
    -------
    volts : ndarray of float, shape (n_nodes,)
    g_s : ndarray of float, shape (n_branches,)

    Raises
    ------
    SingularNetwork
        When the filaments do not come to rest.
    """
    lamps = net.of_role(Role.LAMP)
    lamps = lamps[on[lamps]]
    g_s = np.where(on, net.g_s, 0.0)
    held = anchors(net, islands(net, on))
    volts = solve_linear(net, g_s, held)
    if not lamps.size:
        return volts, g_s
    hot, rated = net.g_s[lamps], net.limit[lamps]
    for _ in range(MAX_LAMP_STEPS):
        drop = volts[net.a[lamps]] - volts[net.b[lamps]]
        secant = secant_s(drop, hot, rated)
        change = np.max(np.abs(secant / g_s[lamps] - 1.0))
        g_s[lamps] = secant
        if change > NEWTON_BELOW:
            volts = solve_linear(net, g_s, held)
        else:
            volts = _newton_step(net, g_s, held, lamps, drop)
        new = volts[net.a[lamps]] - volts[net.b[lamps]]
        g_s[lamps] = secant_s(new, hot, rated)
        if float(np.max(np.abs(new - drop) / rated)) < LAMP_TOLERANCE:
            return volts, g_s
    raise SingularNetwork(("the filaments come to no steady state",))


def _newton_step(
    net: Network, g_s: FloatArray, held: IntArray, lamps: IntArray, drop: FloatArray
) -> FloatArray:
    slope = g_s.copy()
    slope[lamps] = tangent_s(drop, net.g_s[lamps], net.limit[lamps])
    pushed = injected_amps(net, np.where(net.role == Role.LAMP, 0.0, g_s))
    excess = (g_s[lamps] - slope[lamps]) * drop
    np.add.at(pushed, net.a[lamps], -excess)
    np.add.at(pushed, net.b[lamps], excess)
    matrix = hold(net, conductance_matrix(net, slope), held)
    return np.asarray(np.linalg.solve(matrix, pushed), dtype=np.float64)


def rest_state(net: Network, blown: tuple[int, ...] = ()) -> BoolArray:
    """Return which branches conduct before anything is switched by current."""
    on = ~np.isin(net.role, [int(Role.DIODE), int(Role.MAKE)])
    on[list(blown)] = False
    return on


def together(net: Network, branch: int) -> tuple[int, ...]:
    """Return what goes over with a branch: all contacts of a relay, or itself."""
    coil = int(net.coil_of[branch])
    if coil < 0:
        return (branch,)
    return tuple(np.flatnonzero(net.coil_of == coil).tolist())


def disagreement(
    net: Network, on: BoolArray, drop_v: FloatArray, amps: FloatArray
) -> int | None:
    """Return the branch whose state contradicts the solution most, if any.

    In the order in which things happen: diodes at once, then a relay pulls in, then a
    fuse opens; and a relay lets go only after the fuse, since a short that starves its
    coil melts the fuse first. Works on one solution; see `tables.py` for many at once.
    """
    pulls_in, lets_go = _relay_moves(net, on, drop_v)
    for excess in (
        _diode_excess(net, on, drop_v, amps),
        pulls_in,
        _fuse_excess(net, on, amps),
        lets_go,
    ):
        if excess.size and float(excess.max()) > 0.0:
            return int(excess.argmax())
    return None


def _diode_excess(
    net: Network, on: BoolArray, drop_v: FloatArray, amps: FloatArray
) -> FloatArray:
    diode = net.role == Role.DIODE
    wants_off = np.where(diode & on, -amps / np.maximum(net.g_s, 1e-30), 0.0)
    wants_on = np.where(diode & ~on, drop_v - net.emf_v, 0.0)
    excess = np.maximum(wants_off, wants_on)
    return np.where(excess > TOLERANCE_V * 100, excess, 0.0)


def _relay_moves(
    net: Network, on: BoolArray, drop_v: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Return which contacts' relays pull in, and which let go, as ones."""
    contact = net.coil_of >= 0
    coil_v = np.abs(drop_v[net.coil_of])
    pulled = np.where(net.role == Role.MAKE, on, ~on)
    pulls_in = contact & ~pulled & (coil_v >= net.limit)
    lets_go = contact & pulled & (coil_v < DROP_OUT_RATIO * net.limit)
    return pulls_in.astype(np.float64), lets_go.astype(np.float64)


def _fuse_excess(net: Network, on: BoolArray, amps: FloatArray) -> FloatArray:
    fuse = (net.role == Role.FUSE) & on
    ratio = np.where(fuse, np.abs(amps) / np.maximum(net.limit, 1e-30), 0.0)
    return np.where(ratio > FUSE_OPENS_AT, ratio, 0.0)


def branch_amps(net: Network, volts: FloatArray, g_s: FloatArray) -> FloatArray:
    """Return each branch's current from `a` to `b`."""
    return g_s * (volts[net.a] - volts[net.b] - net.emf_v)


def solve_network(net: Network, *, blown: tuple[int, ...] = ()) -> Solution:
    """Find the operating point.

    Parameters
    ----------
    net : Network
    blown : tuple of int
        Fuses (branch indices) that are open already.

    Raises
    ------
    SingularNetwork
        When a relay or diode comes to no steady state, or the lamps do not.
    """
    on = rest_state(net, blown)
    opened = list(blown)
    seen: set[bytes] = set()
    restless = ""
    with np.errstate(all="raise", under="ignore"):
        for _ in range(MAX_STATES):
            volts, g_s = settle_lamps(net, on)
            amps = branch_amps(net, volts, g_s)
            drop = volts[net.a] - volts[net.b]
            wrong = disagreement(net, on, drop, amps)
            if wrong is None:
                return Solution(volts, amps, g_s, on, tuple(opened))
            restless = net.segments[wrong]
            if net.role[wrong] == Role.FUSE:
                opened.append(wrong)
                seen.clear()
            state = on.tobytes() + bytes([wrong % 251])
            if state in seen:
                break
            seen.add(state)
            on = on.copy()
            on[list(together(net, wrong))] ^= True
    raise SingularNetwork((f"{restless} switches to and fro without rest",))
