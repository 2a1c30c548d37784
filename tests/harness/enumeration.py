"""The posterior found the long way: every set of faults solved by itself.

Each set of faults and each instrument is a circuit of its own, put together and solved
from nothing; each likelihood is put together from the distributions of scipy. Nothing
is taken from the engine's tables, screens or updates: only the drawing, the faults and
the solver for one circuit, which has oracles of its own.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import combinations
from math import copysign, inf, isinf, log, sqrt

import networkx
import numpy as np
from scipy.stats import logistic, norm, uniform

from harness.circuit import FloatArray, Network
from harness.consumers import ordinary_rigs
from harness.faults import Fault, single_faults, with_faults
from harness.findings import EYE_READS, LAMP_READS, Finding, Test, is_fuse, segment_seen
from harness.model import Harness
from harness.network import compile_network
from harness.predictions import HEALTHY_SHARE
from harness.priors import beside_log_odds, log_priors
from harness.readings import VOLTMETER_OHM, test_lamp_ohm, with_branch
from harness.rig import Rig
from harness.segments import segments_of
from harness.sets import FaultSet
from harness.solver import Solution, solve_network
from tests.harness.direct import OPEN_ABOVE_OHM, with_meter

# As `likelihood.py` states them (our own judgement, common practice, no source).
LAMP = {"high": 0.75, "low": 0.25, "width": 0.02, "blunder": 0.005}
EYE = {"high": 0.85, "low": 0.40, "width": 0.008, "blunder": 0.004}
METER_BLUNDER, CLAMP_BLUNDER = 0.005, 0.01


def every_set(h: Harness) -> list[FaultSet]:
    """Return nothing wrong, every single fault and every pair on two segments."""
    singles = single_faults(h)
    pairs = [
        tuple(sorted(pair))
        for pair in combinations(singles, 2)
        if not set(pair[0].segments) & set(pair[1].segments)
    ]
    return [(), *((fault,) for fault in singles), *pairs]


def of_words(share: FloatArray, law: Mapping[str, float]) -> FloatArray:
    """Return the chances of the high, middle and low word, shape (3, n)."""
    spread = law["width"] * sqrt(3.0) / np.pi
    upper = logistic.cdf(share, law["high"], spread)
    lower = logistic.sf(share, law["low"], spread)
    honest = np.stack([upper, np.maximum(1.0 - upper - lower, 0.0), lower])
    honest /= honest.sum(axis=0)
    out: FloatArray = (1 - law["blunder"]) * honest + law["blunder"] / 3
    return out


def of_volts(read_v: float, volts: FloatArray, nominal_v: float) -> FloatArray:
    """Return the density of a voltmeter's reading."""
    honest = norm.pdf(read_v, volts, 0.02 + 0.02 * np.abs(volts))
    # As thin as if spread over 2.6 times nominal volts, wherever the reading lies.
    anywhere = uniform.pdf(0.0, -1.3 * nominal_v, 2.6 * nominal_v)
    out: FloatArray = (1 - METER_BLUNDER) * honest + METER_BLUNDER * anywhere
    return out


def of_amps(read_a: float, amps: FloatArray) -> FloatArray:
    """Return the density of a clamp's reading; a blunder is even on a bent scale."""
    honest = norm.pdf(read_a, amps, 0.05 + 0.03 * np.abs(amps))
    widest = log(1.0 + 1000.0 * 0.03 / 0.05) / 0.03
    bent = copysign(log(1.0 + abs(read_a) * 0.03 / 0.05) / 0.03, read_a)
    anywhere = uniform.pdf(bent, -widest, 2 * widest) / (0.05 + 0.03 * abs(read_a))
    out: FloatArray = (1 - CLAMP_BLUNDER) * honest + CLAMP_BLUNDER * anywhere
    return out


def of_ohms(read_ohm: float, ohms: FloatArray) -> FloatArray:
    """Return how likely an ohmmeter's reading is: a word, or a place on a bent scale.

    A tenth of the ohms and 0.15 ohm of leads are one width; 16 decades are the range.
    """
    is_open = np.isinf(ohms)
    if isinf(read_ohm):
        return np.where(is_open, 1 - METER_BLUNDER / 2, METER_BLUNDER / 2)
    anywhere = METER_BLUNDER / (16.0 / 0.10)
    shown = np.log(np.where(is_open, 1.0, ohms) + 0.15 / 0.10) / 0.10
    honest = norm.pdf(log(read_ohm + 0.15 / 0.10) / 0.10, shown)
    out: FloatArray = np.where(is_open, 0.0, (1 - METER_BLUNDER) * honest) + anywhere
    return out


@dataclass
class Enumeration:
    """Every set of faults of a small loom, and what tests show under each.

    What has been solved is remembered, so that hunts share the solving.
    """

    h: Harness
    _shown: dict[tuple[Test, FaultSet], float] = field(default_factory=dict, repr=False)
    _alone: dict[tuple[Rig, FaultSet], Solution] = field(
        default_factory=dict, repr=False
    )
    _nets: dict[Rig, Network] = field(default_factory=dict, repr=False)

    @cached_property
    def sets(self) -> list[FaultSet]:
        return every_set(self.h)

    @cached_property
    def log_prior(self) -> FloatArray:
        """Log priors of the sets, normalised over all of them."""
        singles, beside = log_priors(self.h), beside_log_odds(self.h)
        of = dict(zip(single_faults(self.h), singles[1:].tolist(), strict=True))
        sums = [
            sum(of[fault] for fault in faults) + beside * (len(faults) - 1)
            if faults
            else float(singles[0])
            for faults in self.sets
        ]
        out: FloatArray = np.array(sums) - np.logaddexp.reduce(sums)
        return out

    @cached_property
    def opened(self) -> dict[Fault, frozenset[str]]:
        """The fuses that each fault opens by itself, in one ordinary rig or another."""
        out: dict[Fault, frozenset[str]] = {}
        for fault in single_faults(self.h):
            gone: frozenset[str] = frozenset()
            for rig in () if fault.moved else ordinary_rigs(self.h):
                net = self._faulty(rig, (fault,))
                solution = solve_network(net, blown=_places(net, gone))
                gone |= {net.segments[k] for k in solution.blown}
            out[fault] = gone
        return out

    def gone(self, faults: FaultSet) -> frozenset[str]:
        """Return the fuses that the members have opened before anyone tests."""
        # A size between those of the drawing's own faults is no short.
        known = (self.opened.get(fault, frozenset()) for fault in faults)
        return frozenset().union(*known)

    def _faulty(self, rig: Rig, faults: FaultSet) -> Network:
        if rig not in self._nets:
            self._nets[rig] = compile_network(self.h, rig)
        return with_faults(self.h, self._nets[rig], faults)

    def shown(self, test: Test, faults: FaultSet) -> float:
        """Return what a test shows: volts, ohms, amperes, a share or blown (1)."""
        if (test, faults) not in self._shown:
            read = self._seen if test.tool == "eye" else self._read
            self._shown[test, faults] = read(test, faults)
        return self._shown[test, faults]

    def _read(self, test: Test, faults: FaultSet) -> float:
        if test.tool == "ammeter":
            flows = self._solved(test.rig, faults).amps
            return float(flows[self._nets[test.rig].branch_of[f"wire:{test.wire}"]])
        net = self._faulty(test.rig, faults)
        one, two = net.node_of[test.probe], net.node_of[test.clip]
        gone = _places(net, self.gone(faults))
        if test.tool == "ohmmeter":
            solution = solve_network(with_meter(net, one, two), blown=gone)
            pushed_a = -float(solution.amps[-1])
            drop_v = float(solution.volts[one] - solution.volts[two])
            return drop_v / pushed_a if drop_v < OPEN_ABOVE_OHM * pushed_a else inf
        if not self._joined(test.rig, faults, one, two):
            return 0.0
        lamp = test.tool == "test-lamp"
        ohm = test_lamp_ohm(self.h.volts) if lamp else VOLTMETER_OHM
        loaded = with_branch(net, one, two, ohm)
        solution = solve_network(loaded, blown=gone)
        return float(solution.volts[one] - solution.volts[two])

    def _solved(self, rig: Rig, faults: FaultSet) -> Solution:
        """Return the operating point with nothing connected."""
        if (rig, faults) not in self._alone:
            net = self._faulty(rig, faults)
            gone = _places(net, self.gone(faults))
            self._alone[rig, faults] = solve_network(net, blown=gone)
        return self._alone[rig, faults]

    def _joined(self, rig: Rig, faults: FaultSet, one: int, two: int) -> bool:
        """Return whether a current through an instrument would have a way back.

        Over the one link between two islands there is none, and so no volts; the solver
        leaves some ten microvolts there, which is its rounding.
        """
        solution, net = self._solved(rig, faults), self._faulty(rig, faults)
        ways = zip(net.a[solution.on], net.b[solution.on], strict=True)
        joined = networkx.Graph((int(a), int(b)) for a, b in ways)
        joined.add_nodes_from((one, two))
        return bool(networkx.has_path(joined, one, two))

    def _seen(self, test: Test, faults: FaultSet) -> float:
        segment, solution = (
            segment_seen(self.h, test.device),
            self._solved(test.rig, faults),
        )
        net = self._nets[test.rig]
        if is_fuse(self.h, test.device):
            blown = {net.segments[k] for k in solution.blown} | self.gone(faults)
            return float(segment in blown or Fault(segment, "blown") in faults)
        if any(fault.segment == segment for fault in faults):
            return 0.0
        one, two = (net.node_of[end] for end in segments_of(self.h)[segment].ends)
        sound = self._solved(test.rig, ()).volts
        healthy_v = abs(float(sound[one] - sound[two]))
        if healthy_v < HEALTHY_SHARE * self.h.volts:
            healthy_v = self.h.volts
        return abs(float(solution.volts[one] - solution.volts[two])) / healthy_v

    def likelihood(self, finding: Finding) -> FloatArray:
        """Return how likely a finding is under every set of faults."""
        ways = [_ways(faults, moving=finding.moving) for faults in self.sets]
        flat = [way for some in ways for way in some]
        shown = np.array([self.shown(finding.test, way) for way in flat])
        likely = self.chance(finding, shown)
        starts = np.cumsum([0, *(len(some) for some in ways[:-1])])
        out: FloatArray = np.add.reduceat(likely, starts) / [len(w) for w in ways]
        return out

    def chance(self, finding: Finding, shown: FloatArray) -> FloatArray:
        """Return how likely a reading is where the test shows one thing or another."""
        tool, reads = finding.test.tool, finding.reads
        if tool == "test-lamp":
            chances = of_words(np.abs(shown) / self.h.volts, LAMP)
            of_lamp: FloatArray = chances[LAMP_READS.index(reads)]
            return of_lamp
        if tool == "voltmeter":
            return of_volts(finding.value, shown, self.h.volts)
        if tool == "ohmmeter":
            return of_ohms(finding.value, shown)
        if tool == "ammeter":
            return of_amps(finding.value, shown)
        if is_fuse(self.h, finding.test.device):
            blown = EYE["blunder"] / 2 + (1 - EYE["blunder"]) * shown
            return blown if reads == "blown" else 1 - blown
        of_eye: FloatArray = of_words(shown, EYE)[EYE_READS.index(reads)]
        return of_eye

    def posterior(self, findings: Sequence[Finding]) -> dict[FaultSet, float]:
        """Return the probability of every set after some findings."""
        logs = self.log_prior.copy()
        for finding in findings:
            logs += np.log(self.likelihood(finding))
        shares = np.exp(logs - np.logaddexp.reduce(logs))
        return dict(zip(self.sets, shares.tolist(), strict=True))


def _ways(faults: FaultSet, *, moving: bool) -> list[FaultSet]:
    """Return what may be open when a test is made, one as likely as another.

    An intermittent contact is sound at rest, and open or not while the loom is moved.
    """
    steady = tuple(fault for fault in faults if not fault.moved)
    parting = [replace(fault, moved=False) for fault in faults if fault.moved]
    most = len(parting) if moving else 0
    return [
        tuple(sorted((*steady, *parted)))
        for count in range(most + 1)
        for parted in combinations(parting, count)
    ]


def _places(net: Network, fuses: frozenset[str]) -> tuple[int, ...]:
    return tuple(net.branch_of[name] for name in sorted(fuses) if name in net.branch_of)
