"""What tests show when several faults are there at once, exactly.

Each short has blown its fuse the day that it came, before another fault was there; so
the fuses that a set has opened are those that its members have opened by themselves,
and whatever it opens in the rig of the test.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import product

import numpy as np

from harness.circuit import FloatArray, Network
from harness.edit_arrays import EditArrays, edit_arrays
from harness.findings import Finding, Test, is_fuse
from harness.network import compile_network
from harness.predictions import (
    Predictions,
    consumer_share,
    fuse_blown,
    instrument_shows,
    log_chance,
)
from harness.rig import Rig
from harness.segments import Fault
from harness.tables import Build, RigTable, solve_edits

FaultSet = tuple[Fault, ...]
RIGS_KEPT = 64


@dataclass
class Sets:
    """Readings of sets of faults on one harness.

    The edits of each single fault are put together once for each rig.
    """

    predictions: Predictions
    _edits: dict[Rig, tuple[Network, EditArrays, dict[Fault, int]]] = field(
        default_factory=dict
    )
    _last: tuple[tuple[Rig, tuple[FaultSet, ...]], RigTable] | None = None

    def opened(self, faults: FaultSet) -> frozenset[str]:
        """Return the fuses that the members have opened before anyone tests."""
        known = self.predictions.opened_by
        return frozenset().union(*(known.get(f, frozenset()) for f in faults))

    def table(self, rig: Rig, sets: Sequence[FaultSet]) -> RigTable:
        """Return the operating points of sets of faults in a rig; the last are kept.

        Raises
        ------
        SingularNetwork
            When the healthy network has no operating point.
        """
        key = (rig, tuple(sets))
        if self._last is None or self._last[0] != key:
            self._last = (key, self._solved(rig, sets))
        return self._last[1]

    def _solved(self, rig: Rig, sets: Sequence[FaultSet]) -> RigTable:
        net, edits, row_of = self._of(rig, sets)
        size = max((len(faults) for faults in sets), default=1)
        members = np.zeros((len(sets), max(size, 1)), dtype=np.intp)
        for i, faults in enumerate(sets):
            members[i, : len(faults)] = [row_of[f] for f in faults]
        opened = [self.opened(faults) for faults in sets]
        build = Build(net, edits.together(members), opened)
        return solve_edits(self.predictions.h, rig, build)

    def _of(
        self, rig: Rig, sets: Sequence[FaultSet]
    ) -> tuple[Network, EditArrays, dict[Fault, int]]:
        """Return edits of the single faults, with those that no drawing knows."""
        h, known = self.predictions.h, self.predictions.faults
        if rig not in self._edits:
            while len(self._edits) >= RIGS_KEPT:
                del self._edits[next(iter(self._edits))]
            net = compile_network(h, rig)
            rows = {f: i for i, f in enumerate(known) if f is not None}
            self._edits[rig] = (net, edit_arrays(h, net, known), rows)
        net, edits, rows = self._edits[rig]
        new = sorted({f for faults in sets for f in faults} - rows.keys())
        if new:
            more = edit_arrays(h, net, new)
            rows = rows | {f: len(rows) + 1 + i for i, f in enumerate(new)}
            self._edits[rig] = (net, edits.with_more(more), rows)
        return self._edits[rig]

    def shown(self, tests: Sequence[Test], sets: Sequence[FaultSet]) -> FloatArray:
        """Return what tests would show under sets of faults.

        Returns
        -------
        ndarray of float, shape (n_tests, n_sets)
            As `Predictions.shown`; intermittent contacts at rest.
        """
        out = np.full((len(tests), len(sets)), np.nan)
        for rig in dict.fromkeys(test.rig for test in tests):
            table = self.table(rig, sets)
            for i, test in enumerate(tests):
                if test.rig == rig:
                    out[i] = self.read(table, test, sets)
        return out

    def read(self, table: RigTable, test: Test, sets: Sequence[FaultSet]) -> FloatArray:
        """Return what a test would show under every set of a table."""
        if test.tool != "eye":
            return instrument_shows(table, test)
        if is_fuse(self.predictions.h, test.device):
            opened = [self.opened(faults) for faults in sets]
            return fuse_blown(table, sets, opened, test.device)
        healthy = self.predictions.healthy_v(table.rig, test.device)
        return consumer_share(table, sets, test.device, healthy)

    def log_likelihood(
        self, findings: Sequence[Finding], sets: Sequence[FaultSet]
    ) -> FloatArray:
        """Return how likely findings are under sets of faults, as logarithms.

        Returns
        -------
        ndarray of float, shape (n_findings, n_sets)
        """
        out = np.zeros((len(findings), len(sets)))
        still = [i for i, finding in enumerate(findings) if not finding.moving]
        shown = self.shown([findings[i].test for i in still], sets)
        for i, row in zip(still, shown, strict=True):
            out[i] = log_chance(self.predictions.h, findings[i], row)
        for i, finding in enumerate(findings):
            if finding.moving:
                out[i] = self._while_moving(finding, sets)
        return out

    def _while_moving(self, finding: Finding, sets: Sequence[FaultSet]) -> FloatArray:
        """Weigh every way in which the intermittent contacts may then have been."""
        ways = [_ways(faults) for faults in sets]
        flat = [way for some in ways for way in some]
        shown = self.shown([finding.test], flat)[0]
        logs = log_chance(self.predictions.h, finding, shown)
        ends = np.cumsum([len(some) for some in ways])
        parts = np.split(logs, ends[:-1])
        return np.array([np.logaddexp.reduce(p) - np.log(len(p)) for p in parts])


def _ways(faults: FaultSet) -> list[FaultSet]:
    """Return the set with each of its intermittent contacts either open or not."""
    steady = tuple(f for f in faults if not f.moved)
    parting = [Fault(f.segment, f.mode, f.ohms, f.other) for f in faults if f.moved]
    return [
        (*steady, *(f for f, is_open in zip(parting, chosen, strict=True) if is_open))
        for chosen in product((True, False), repeat=len(parting))
    ]
