"""What an instrument shows, found the long way: faults and instrument wired in.

The engine reads its tables of all sets of faults from a few factorisations; here each
reading is a circuit of its own, put together and solved from nothing. The instrument is
held to a bike that has come to rest: a relay that is in by then may hold with it.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from random import Random

import numpy as np

from harness.circuit import BoolArray, FloatArray, Network, Role
from harness.consumers import ordinary_rigs
from harness.errors import SingularNetwork
from harness.faults import Fault, single_faults, with_faults
from harness.model import Harness
from harness.network import compile_network
from harness.readings import VOLTMETER_OHM, test_lamp_ohm, with_branch
from harness.rig import Rig
from harness.sets import FaultSet
from harness.solver import (
    Solution,
    branch_amps,
    disagreement,
    islands,
    settle_lamps,
    solve_network,
    together,
)

# The ohmmeter of this page: a millivolt behind an ohm, its current read.
PUSHED_V = 1e-3
OPEN_ABOVE_OHM = 1e6


def faulty(h: Harness, rig: Rig, faults: Sequence[Fault]) -> Network:
    """Return the network of a rig with faults in it."""
    return with_faults(h, compile_network(h, rig), faults)


def solved(net: Network, opened: Iterable[str] = ()) -> Solution | None:
    """Solve with some fuses open already; None where there is no steady state."""
    blown = tuple(
        net.branch_of[name] for name in sorted(opened) if name in net.branch_of
    )
    try:
        return solve_network(net, blown=blown)
    except SingularNetwork:
        return None


def goes_on(net: Network, on: BoolArray) -> Solution | None:
    """Solve from a given state, None where nothing steady is found."""
    seen = set()
    while on.tobytes() not in seen:
        seen.add(on.tobytes())
        volts, g_s = settle_lamps(net, on)
        amps = branch_amps(net, volts, g_s)
        wrong = disagreement(net, on, volts[net.a] - volts[net.b], amps)
        if wrong is None:
            return Solution(volts, amps, g_s, on, ())
        on = on.copy()
        on[list(together(net, wrong))] ^= True
    return None


@dataclass(frozen=True)
class Bench:
    """A harness in a rig with faults, and fuses that have opened before."""

    h: Harness
    rig: Rig
    faults: FaultSet = ()
    opened: frozenset[str] = frozenset()

    @cached_property
    def net(self) -> Network:
        return faulty(self.h, self.rig, self.faults)

    @cached_property
    def at_rest(self) -> Solution | None:
        """The bike with nothing connected to it."""
        return solved(self.net, self.opened)

    def across(self, probe: str, clip: str, ohm: float) -> float:
        """Return the volts over a resistance held between two terminals."""
        if self.at_rest is None:
            return float("nan")
        one, two = self.net.node_of[probe], self.net.node_of[clip]
        loaded = with_branch(self.net, one, two, ohm)
        solution = goes_on(loaded, np.append(self.at_rest.on, True))
        if solution is None:
            return float("nan")
        return float(solution.volts[one] - solution.volts[two])

    def voltmeter(self, probe: str, clip: str) -> float:
        return self.across(probe, clip, VOLTMETER_OHM)

    def lamp(self, probe: str, clip: str) -> float:
        return self.across(probe, clip, test_lamp_ohm(self.h.volts))

    def ohmmeter(self, probe: str, clip: str) -> float:
        """Push a millivolt through with the batteries dead; no diode notices it."""
        one, two = self.net.node_of[probe], self.net.node_of[clip]
        solution = solved(with_meter(self.net, one, two), self.opened)
        if solution is None:
            return float("nan")
        amps = -float(solution.amps[-1])
        drop_v = float(solution.volts[one] - solution.volts[two])
        return drop_v / amps if drop_v < OPEN_ABOVE_OHM * amps else float("inf")

    def ammeter(self, wire: str) -> float:
        """Return the amperes at the end of a wire at which it begins."""
        if self.at_rest is None:
            return float("nan")
        return float(self.at_rest.amps[self.net.branch_of[f"wire:{wire}"]])

    def drop(self, one: str, two: str) -> float:
        """Return the volts between two terminals with nothing connected."""
        if self.at_rest is None:
            return float("nan")
        volts: FloatArray = self.at_rest.volts
        node = self.net.node_of
        return float(volts[node[one]] - volts[node[two]])

    def joined(self) -> BoolArray:
        """Return which nodes the battery reaches."""
        assert self.at_rest is not None
        labels = islands(self.net, self.at_rest.on)
        reached: BoolArray = labels == labels[self.net.reference]
        return reached


def with_meter(net: Network, a: int, b: int) -> Network:
    """Return the network, its batteries dead, with a pushing meter in it."""
    quiet = np.where(net.role == Role.SOURCE, 0.0, net.emf_v)
    with_it = with_branch(replace(net, emf_v=quiet), a, b, 1.0)
    with_it.emf_v[-1] = PUSHED_V
    return with_it


def opened_by_each(h: Harness) -> dict[Fault, frozenset[str]]:
    """Return the fuses that each short opens by itself, where it opens any."""
    out = {}
    for fault in single_faults(h):
        gone: frozenset[str] = frozenset()
        for rig in ordinary_rigs(h) if fault.is_short else ():
            net = faulty(h, rig, (fault,))
            solution = solved(net, gone)
            if solution is not None:
                gone |= {net.segments[k] for k in solution.blown}
        if gone:
            out[fault] = gone
    return out


def some_faults(h: Harness, count: int, seed: int) -> list[Fault]:
    """Return a few single faults: of every mode, the rest by chance."""
    every = single_faults(h)
    order = Random(seed).sample(range(len(every)), len(every))
    modes = dict.fromkeys(fault.mode for fault in every)
    first = [next(i for i in order if every[i].mode == mode) for mode in modes]
    rest = [i for i in order if i not in first]
    return [every[i] for i in sorted((first + rest)[:count])]


def some_sets(h: Harness, count: int, size: int, seed: int) -> list[FaultSet]:
    """Return sets of faults by chance, no two on one segment."""
    random, every = Random(seed), single_faults(h)
    found: list[FaultSet] = []
    while len(found) < count:
        drawn = tuple(random.sample(every, size))
        bad = [segment for fault in drawn for segment in fault.segments]
        if len(set(bad)) == len(bad):
            found.append(drawn)
    return found
