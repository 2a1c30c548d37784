"""What an instrument shows, found the long way: fault and instrument wired in.

The engine reads its tables of all faults at once from a few factorisations; here each
reading is a circuit of its own, put together and solved from nothing.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np

from harness.circuit import FloatArray, Network, Role
from harness.errors import SingularNetwork
from harness.faults import Fault, single_faults, with_fault
from harness.model import Harness
from harness.network import compile_network
from harness.readings import VOLTMETER_OHM, test_lamp_ohm, with_branch
from harness.rig import Rig
from harness.solver import Solution, solve_network

# The ohmmeter of this page: a millivolt behind an ohm, its current read.
PUSHED_V = 1e-3
OPEN_ABOVE_OHM = 1e6


def faulty(h: Harness, rig: Rig, fault: Fault | None) -> Network:
    """Return the network of a rig with a fault in it."""
    net = compile_network(h, rig)
    return net if fault is None else with_fault(h, net, fault)


def solved(net: Network, opened: Iterable[str] = ()) -> Solution | None:
    """Solve with some fuses open already; None where there is no steady state."""
    blown = tuple(
        net.branch_of[name] for name in sorted(opened) if name in net.branch_of
    )
    try:
        return solve_network(net, blown=blown)
    except SingularNetwork:
        return None


@dataclass(frozen=True)
class Bench:
    """A harness in a rig with a fault, and fuses that have opened before."""

    h: Harness
    rig: Rig
    fault: Fault | None = None
    opened: frozenset[str] = frozenset()

    def across(self, probe: str, clip: str, ohm: float) -> float:
        """Return the volts over a resistance between two terminals."""
        net = faulty(self.h, self.rig, self.fault)
        one, two = net.node_of[probe], net.node_of[clip]
        solution = solved(with_branch(net, one, two, ohm), self.opened)
        if solution is None:
            return float("nan")
        return float(solution.volts[one] - solution.volts[two])

    def voltmeter(self, probe: str, clip: str) -> float:
        return self.across(probe, clip, VOLTMETER_OHM)

    def lamp(self, probe: str, clip: str) -> float:
        return self.across(probe, clip, test_lamp_ohm(self.h.volts))

    def ohmmeter(self, probe: str, clip: str) -> float:
        """Push a millivolt through with the batteries dead; no diode notices it."""
        net = faulty(self.h, self.rig, self.fault)
        one, two = net.node_of[probe], net.node_of[clip]
        solution = solved(with_meter(net, one, two), self.opened)
        if solution is None:
            return float("nan")
        amps = -float(solution.amps[-1])
        drop_v = float(solution.volts[one] - solution.volts[two])
        return drop_v / amps if drop_v < OPEN_ABOVE_OHM * amps else float("inf")

    def drop(self, one: str, two: str) -> float:
        """Return the volts between two terminals with nothing connected."""
        net = faulty(self.h, self.rig, self.fault)
        solution = solved(net, self.opened)
        if solution is None:
            return float("nan")
        volts: FloatArray = solution.volts
        return float(volts[net.node_of[one]] - volts[net.node_of[two]])


def with_meter(net: Network, a: int, b: int) -> Network:
    """Return the network, its batteries dead, with a pushing meter in it."""
    quiet = np.where(net.role == Role.SOURCE, 0.0, net.emf_v)
    with_it = with_branch(replace(net, emf_v=quiet), a, b, 1.0)
    with_it.emf_v[-1] = PUSHED_V
    return with_it


def some_faults(h: Harness, count: int, seed: int) -> list[Fault]:
    """Return a few single faults: of every mode, the rest by chance."""
    every = single_faults(h)
    random = np.random.default_rng(seed)
    order = random.permutation(len(every)).tolist()
    modes = dict.fromkeys(fault.mode for fault in every)
    first = [next(i for i in order if every[i].mode == mode) for mode in modes]
    rest = [i for i in order if i not in first]
    return [every[i] for i in sorted((first + rest)[:count])]
