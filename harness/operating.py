"""The bike's operating point in a rig, as a person would ask for it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from harness.circuit import FloatArray, IntArray, Network
from harness.faults import fault_from, with_faults
from harness.model import Harness
from harness.network import compile_network
from harness.rig import Rig, rig_from
from harness.segments import Fault
from harness.solver import Solution, islands, solve_network

# A charger conducts from its second pin to its first, and its branch runs that way.
_DRAWN_BACKWARDS = "charger:"


@dataclass(frozen=True)
class OperatingPoint:
    """Volts, amperes and blown fuses.

    Attributes
    ----------
    volts : dict of str to float
        Every terminal against the battery's earthed pole, V. What nothing joins to
        the battery is given against a point of its own island.
    amps : dict of str to float
        Every segment in the circuit, A: a wire from `from` to `to`, a device from its
        first pin to its second, a contact from its first pin.
    blown : tuple of str
        Fuses that opened, in order, by device id.
    residual_a : float
        The largest current that any node fails to balance.
    """

    volts: dict[str, float]
    amps: dict[str, float]
    blown: tuple[str, ...]
    residual_a: float


def solve(
    h: Harness,
    rig: Mapping[str, object] | Rig | None = None,
    faults: Sequence[Sequence[object] | Fault] = (),
) -> OperatingPoint:
    """Find the operating point of a harness in a rig.

    Parameters
    ----------
    h : Harness
    rig : mapping or Rig, optional
        Everything at rest unless given.
    faults : sequence of (segment, mode) or (segment, mode, ohms)
        Faults to put in; see `faults.fault_from`.

    Raises
    ------
    HarnessError
        When the rig or a fault names what is not there.
    SingularNetwork
        When there is no steady operating point, such as a relay that chatters.
    """
    placed = rig if isinstance(rig, Rig) else rig_from(h, rig or {})
    put_in = [f if isinstance(f, Fault) else fault_from(h, f) for f in faults]
    net = with_faults(h, compile_network(h, placed), put_in)
    solution = solve_network(net)
    return OperatingPoint(
        volts={t: float(solution.volts[net.node_of[t]]) for t in h.terminals},
        amps={
            name: float(-amps if name.startswith(_DRAWN_BACKWARDS) else amps)
            for name, amps in zip(net.segments, solution.amps, strict=True)
            if "/" not in name
        },
        blown=tuple(net.segments[k].partition(":")[2] for k in solution.blown),
        residual_a=residual_a(net, solution),
    )


def residual_a(net: Network, solution: Solution) -> float:
    """Return the largest sum of currents at any node, which should be nothing."""
    sums: FloatArray = np.zeros(len(net.nodes))
    np.add.at(sums, net.a, solution.amps)
    np.add.at(sums, net.b, -solution.amps)
    return float(np.abs(sums).max())


def joined_to_battery(net: Network, solution: Solution) -> IntArray:
    """Return the nodes that something joins to the battery's earthed pole."""
    labels = islands(net, solution.on)
    return np.flatnonzero(labels == labels[net.reference])
