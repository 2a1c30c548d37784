"""What every test would show under every single fault of a harness.

Solved tables are remembered by harness and rig, since they depend on nothing else; the
readings of a rig's tests are filled in fault by fault as they are asked for.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache

import numpy as np

from harness.circuit import FloatArray, IntArray
from harness.consumers import consumers, ordinary_rigs
from harness.errors import HarnessError, Problem
from harness.faults import single_faults
from harness.findings import Finding, Test, is_fuse, segment_seen
from harness.likelihood import (
    amp_density,
    eye_chances,
    fuse_chances,
    lamp_chances,
    ohm_density,
    volt_density,
)
from harness.model import Harness
from harness.readings import ammeter_a, ohmmeter_ohm, test_lamp_v, voltmeter_v
from harness.remembering import Remembered
from harness.rig import Rig, rig_from
from harness.segments import Fault, segments_of
from harness.tables import RigTable, solve_faults

# A consumer that is off in the healthy bike is judged against nominal volts.
HEALTHY_SHARE = 0.25
WEIGHED_KEPT = 1024


def _bytes_of(table: RigTable) -> int:
    """Return about what a table takes: volts, changes and islands of every node."""
    return 20 * table.count * len(table.net.nodes)


@dataclass
class Predictions:
    """All that is known of a harness before anything is measured.

    Attributes
    ----------
    faults : tuple of Fault or None
        The hypotheses: None for nothing wrong, then every single fault.
    opened : list of frozenset of str
        The fuses that each hypothesis has opened by the time anyone tests: a short
        blows its fuse the first time the bike is used, and it stays blown.
    """

    h: Harness
    faults: tuple[Fault | None, ...]
    opened: list[frozenset[str]]
    tables: Remembered[Rig, RigTable] = field(
        default_factory=lambda: Remembered(most_bytes=80 << 20, size_of=_bytes_of)
    )
    columns: dict[Test, FloatArray] = field(default_factory=dict)
    sound_v: dict[tuple[Rig, str], float] = field(default_factory=dict)
    weighed: dict[tuple[Test, str, bool], FloatArray] = field(default_factory=dict)

    @cached_property
    def rows_of(self) -> dict[str, IntArray]:
        """The hypotheses in which each segment is bad."""
        rows: dict[str, list[int]] = {}
        for i, fault in enumerate(self.faults):
            if fault is not None:
                for segment in fault.segments:
                    rows.setdefault(segment, []).append(i)
        return {name: np.array(found, dtype=np.intp) for name, found in rows.items()}

    @cached_property
    def opened_by(self) -> dict[Fault, frozenset[str]]:
        """The fuses that each fault has opened, where it has opened any."""
        pairs = zip(self.faults, self.opened, strict=True)
        return {fault: gone for fault, gone in pairs if fault is not None and gone}

    def table(self, rig: Rig) -> RigTable:
        """Return the operating points of all hypotheses in a rig."""
        return self.tables.get(rig, lambda: self._solved(rig))

    def _solved(self, rig: Rig) -> RigTable:
        return solve_faults(self.h, rig, self.faults, self.opened)

    def shown(self, test: Test) -> FloatArray:
        """Return what a test would show under every hypothesis.

        Returns
        -------
        ndarray of float, shape (n_hypotheses,)
            Volts across the lamp, volts, ohms, a consumer's share of its healthy
            volts, or 1 for a blown fuse; NaN where a hypothesis finds no rest.
        """
        if test not in self.columns:
            self.columns[test] = self._compute(test)
        return self.columns[test]

    def _compute(self, test: Test) -> FloatArray:
        table = self.table(test.rig)
        if test.tool == "eye" and is_fuse(self.h, test.device):
            return self.fuse_blown(table, test.device)
        if test.tool == "eye":
            return self.consumer_share(table, test.device)
        return instrument_shows(table, test)

    def fuse_blown(self, table: RigTable, device: str) -> FloatArray:
        """Return 1 where a fuse is blown, 0 where intact, by hypothesis."""
        sets = [() if fault is None else (fault,) for fault in self.faults]
        return fuse_blown(table, sets, self.opened, device)

    def consumer_share(self, table: RigTable, device: str) -> FloatArray:
        """Return a consumer's volts as a share of its healthy ones."""
        sets = [() if fault is None else (fault,) for fault in self.faults]
        return consumer_share(table, sets, device, self.healthy_v(table.rig, device))

    def healthy_v(self, rig: Rig, device: str) -> float:
        """Return the volts that a consumer's share is of, in the healthy bike.

        One that is off there is judged against nominal volts.
        """
        key = (rig, device)
        if key not in self.sound_v:
            alone = solve_faults(self.h, rig, [None])
            healthy = abs(float(drop_over(alone, segment_seen(self.h, device))[0]))
            enough = healthy >= HEALTHY_SHARE * self.h.volts
            self.sound_v[key] = healthy if enough else self.h.volts
        return self.sound_v[key]

    def log_likelihood(self, finding: Finding) -> FloatArray:
        """Return how likely a finding is under every hypothesis, as a logarithm.

        Returns
        -------
        ndarray of float, shape (n_hypotheses,)
            Words are chances; meter readings densities, comparable only with the same
            finding's other rows. Not to be written to.
        """
        key = (finding.test, finding.reads, finding.moving)
        if key not in self.weighed:
            while len(self.weighed) >= WEIGHED_KEPT:
                del self.weighed[next(iter(self.weighed))]
            self.weighed[key] = self._weigh(finding)
        return self.weighed[key]

    def _weigh(self, finding: Finding) -> FloatArray:
        logs = log_chance(self.h, finding, self.shown(finding.test))
        if finding.moving:
            # A contact that a pull may part was then either open or not.
            parted = self.parted
            logs = logs.copy()
            logs[parted[:, 0]] = np.logaddexp(logs[0], logs[parted[:, 1]]) - np.log(2)
        return logs

    @cached_property
    def parted(self) -> IntArray:
        """Rows of intermittent contacts, and of the same contacts open for good."""
        row_of = {fault: i for i, fault in enumerate(self.faults)}
        pairs = [
            (i, row_of[replace(fault, moved=False)])
            for i, fault in enumerate(self.faults)
            if fault is not None and fault.moved
        ]
        return np.array(pairs, dtype=np.intp).reshape(-1, 2)


def log_chance(h: Harness, finding: Finding, shown: FloatArray) -> FloatArray:
    """Return how likely a reading is for what the test would show, as a logarithm.

    Intermittent contacts are for the caller to mind.
    """
    tool, reads = finding.test.tool, finding.reads
    if tool == "test-lamp":
        likely = lamp_chances(shown, h.volts)[("lit", "dim", "dark").index(reads)]
    elif tool == "voltmeter":
        likely = volt_density(finding.value, shown, h.volts)
    elif tool == "ohmmeter":
        likely = ohm_density(finding.value, shown)
    elif tool == "ammeter":
        likely = amp_density(finding.value, shown)
    elif is_fuse(h, finding.test.device):
        likely = fuse_chances(shown)[("intact", "blown").index(reads)]
    else:
        likely = eye_chances(shown)[("works", "weak", "dead").index(reads)]
    out: FloatArray = np.log(likely)
    return out


def instrument_shows(table: RigTable, test: Test) -> FloatArray:
    """Return what a lamp or meter would show under every set of a table."""
    rows = np.arange(table.count, dtype=np.intp)
    node = table.net.node_of
    if test.tool == "ammeter":
        branch = np.array([table.net.branch_of[f"wire:{test.wire}"]], dtype=np.intp)
        return ammeter_a(table, rows, branch)[:, 0]
    probe = np.array([node[test.probe]], dtype=np.intp)
    clip = np.array([node[test.clip]], dtype=np.intp)
    return _INSTRUMENTS[test.tool](table, rows, probe, clip)[:, 0]


def drop_over(table: RigTable, segment: str) -> FloatArray:
    """Return the volts over a segment under every set of a table."""
    nodes = [table.net.node_of[end] for end in segments_of(table.h)[segment].ends]
    return table.between(nodes[0], nodes[1])


def fuse_blown(
    table: RigTable,
    sets: Sequence[Sequence[Fault]],
    opened: Sequence[frozenset[str]],
    device: str,
) -> FloatArray:
    """Return 1 where a fuse is blown, 0 where intact, by set."""
    segment = f"fuse:{device}"
    gone = Fault(segment, "blown")
    now = table.blown()
    return np.array(
        [
            float(segment in now[i] or segment in opened[i] or gone in faults)
            for i, faults in enumerate(sets)
        ]
    )


def consumer_share(
    table: RigTable, sets: Sequence[Sequence[Fault]], device: str, healthy_v: float
) -> FloatArray:
    """Return a consumer's volts as a share of its healthy ones, by set."""
    segment = segment_seen(table.h, device)
    share = np.abs(drop_over(table, segment)) / healthy_v
    own = [any(f.segment == segment for f in faults) for faults in sets]
    out: FloatArray = np.where(own, 0.0, share)
    return out


_INSTRUMENTS = {
    "test-lamp": test_lamp_v,
    "voltmeter": voltmeter_v,
    "ohmmeter": ohmmeter_ohm,
}


# A loom of 120 wires takes about 200 MB when every rig has been looked at.
@lru_cache(maxsize=4)
def predictions_for(h: Harness) -> Predictions:
    """Return the predictions of a harness, remembered by its content.

    Raises
    ------
    HarnessError
        When the harness has no body to clip to.
    """
    if h.first_body is None:
        problem = Problem(
            what="the loom meets no body, so there is nowhere to clip a lead",
            where="devices",
            mend='add a device of kind = "body" and the wire that earths it',
        )
        raise HarnessError((problem,))
    singles = single_faults(h)
    opened: list[frozenset[str]] = [frozenset()] * (1 + len(singles))
    shorting = [i for i, fault in enumerate(singles, start=1) if fault.is_short]
    shorts = [singles[i - 1] for i in shorting]
    for rig in ordinary_rigs(h):
        table = solve_faults(h, rig, shorts, [opened[i] for i in shorting])
        for i, blown in zip(shorting, table.blown(), strict=True):
            opened[i] |= blown
    return Predictions(h, (None, *singles), opened)


def lead_off(h: Harness) -> Rig:
    """Return the rig for an ohmmeter: everything at rest, battery lead lifted."""
    return rig_from(h, {"battery-lead": "off"})


@lru_cache(maxsize=32)
def symptom_tests(h: Harness) -> tuple[Test, ...]:
    """Return the looks at every consumer in its own ordinary rigs."""
    return tuple(Test(rig=c.rig, tool="eye", device=c.device) for c in consumers(h))
