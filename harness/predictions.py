"""What every test would show under every single fault of a harness.

Solved tables are remembered by harness and rig, since they depend on nothing else; the
readings of a rig's tests are filled in fault by fault as they are asked for.
"""

from dataclasses import dataclass, field
from functools import cached_property, lru_cache

import numpy as np

from harness.circuit import FloatArray, IntArray
from harness.consumers import consumers, ordinary_rigs
from harness.errors import HarnessError, Problem
from harness.faults import Fault, single_faults
from harness.findings import Finding, Test, is_fuse, segment_seen
from harness.likelihood import (
    eye_chances,
    fuse_chances,
    lamp_chances,
    ohm_density,
    volt_density,
)
from harness.model import Harness
from harness.readings import ohmmeter_ohm, test_lamp_v, voltmeter_v
from harness.rig import Rig, rig_from
from harness.segments import segments_of
from harness.tables import RigTable, solve_faults

# A consumer that is off in the healthy bike is judged against nominal volts.
HEALTHY_SHARE = 0.25
TABLES_KEPT = 64
WEIGHED_KEPT = 1024


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
    standing : Fault or None
        A fault that is there in any case, beside each hypothesis.
    """

    h: Harness
    faults: tuple[Fault | None, ...]
    opened: list[frozenset[str]]
    standing: Fault | None = None
    tables: dict[Rig, RigTable] = field(default_factory=dict)
    columns: dict[Test, FloatArray] = field(default_factory=dict)
    weighed: dict[tuple[Test, str], FloatArray] = field(default_factory=dict)

    @cached_property
    def rows_of(self) -> dict[str, IntArray]:
        """The hypotheses in which each segment is bad."""
        rows: dict[str, list[int]] = {}
        for i, fault in enumerate(self.faults):
            if fault is not None:
                rows.setdefault(fault.segment, []).append(i)
        return {name: np.array(found, dtype=np.intp) for name, found in rows.items()}

    def table(self, rig: Rig) -> RigTable:
        """Return the operating points of all hypotheses in a rig."""
        if rig not in self.tables:
            while len(self.tables) >= TABLES_KEPT:
                del self.tables[next(iter(self.tables))]
            self.tables[rig] = solve_faults(
                self.h, rig, self.faults, self.opened, self.standing
            )
        return self.tables[rig]

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
        rows = np.arange(len(self.faults), dtype=np.intp)
        if test.tool == "eye":
            if is_fuse(self.h, test.device):
                return self.fuse_blown(table, test.device)
            return self.consumer_share(table, test.device)
        probe = np.array([table.net.node_of[test.probe]], dtype=np.intp)
        clip = np.array([table.net.node_of[test.clip]], dtype=np.intp)
        return _INSTRUMENTS[test.tool](table, rows, probe, clip)[:, 0]

    def fuse_blown(self, table: RigTable, device: str) -> FloatArray:
        """Return 1 where a fuse is blown, 0 where intact, by hypothesis."""
        segment = f"fuse:{device}"
        blown = [
            float(
                segment in opened
                or (fault is not None and fault == Fault(segment, "blown"))
            )
            for fault, opened in zip(self.faults, table.blown(), strict=True)
        ]
        return np.array(blown)

    def consumer_share(self, table: RigTable, device: str) -> FloatArray:
        """Return a consumer's volts as a share of its healthy ones."""
        name = segment_seen(self.h, device)
        ends = segments_of(self.h)[name].ends
        nodes = np.array([table.net.node_of[end] for end in ends], dtype=np.intp)
        volts = table.node_volts()
        drop = np.abs(volts[:, nodes[0]] - volts[:, nodes[1]])
        healthy = self._healthy_v(table, device, float(drop[0]))
        if not healthy >= HEALTHY_SHARE * self.h.volts:
            healthy = self.h.volts
        own = np.array([f is not None and f.segment == name for f in self.faults])
        if self.standing is not None and self.standing.segment == name:
            own[:] = True
        out: FloatArray = np.where(own, 0.0, drop / healthy)
        return out

    def _healthy_v(self, table: RigTable, device: str, alone_v: float) -> float:
        if self.standing is None:
            return alone_v
        sound = predictions_for(self.h)
        volts = sound.table(table.rig).node_volts()[0]
        ends = segments_of(self.h)[segment_seen(self.h, device)].ends
        one, two = (sound.table(table.rig).net.node_of[end] for end in ends)
        return abs(float(volts[one] - volts[two]))

    def log_likelihood(self, finding: Finding) -> FloatArray:
        """Return how likely a finding is under every hypothesis, as a logarithm.

        Returns
        -------
        ndarray of float, shape (n_hypotheses,)
            Words are chances; meter readings densities, comparable only with the same
            finding's other rows. Not to be written to.
        """
        key = (finding.test, finding.reads)
        if key not in self.weighed:
            while len(self.weighed) >= WEIGHED_KEPT:
                del self.weighed[next(iter(self.weighed))]
            self.weighed[key] = self._weigh(finding)
        return self.weighed[key]

    def _weigh(self, finding: Finding) -> FloatArray:
        shown = self.shown(finding.test)
        tool, reads = finding.test.tool, finding.reads
        if tool == "test-lamp":
            word = ("lit", "dim", "dark").index(reads)
            likely = lamp_chances(shown, self.h.volts)[word]
        elif tool == "voltmeter":
            likely = volt_density(finding.value, shown, self.h.volts)
        elif tool == "ohmmeter":
            likely = ohm_density(finding.value, shown)
        elif is_fuse(self.h, finding.test.device):
            likely = fuse_chances(shown)[("intact", "blown").index(reads)]
        else:
            likely = eye_chances(shown)[("works", "weak", "dead").index(reads)]
        out: FloatArray = np.log(likely)
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
    earthed = [i for i, fault in enumerate(singles) if fault.mode == "earthed"]
    shorts = [singles[i] for i in earthed]
    for rig in ordinary_rigs(h):
        table = solve_faults(h, rig, shorts, [opened[1 + i] for i in earthed])
        for i, blown in zip(earthed, table.blown(), strict=True):
            opened[1 + i] |= blown
    return Predictions(h, (None, *singles), opened)


@lru_cache(maxsize=4)
def beside(h: Harness, standing: Fault) -> Predictions:
    """Return what every second fault would show beside one that is taken as known."""
    alone = predictions_for(h)
    before = alone.opened[alone.faults.index(standing)]
    opened = [before | own for own in alone.opened]
    return Predictions(h, alone.faults, opened, standing)


def prepare(h: Harness) -> None:
    """Work out ahead what any case on a harness will ask first.

    Raises
    ------
    HarnessError
        When the harness has no body to clip to.
    """
    predictions = predictions_for(h)
    for test in symptom_tests(h):
        predictions.shown(test)


def lead_off(h: Harness) -> Rig:
    """Return the rig for an ohmmeter: everything at rest, battery lead lifted."""
    return rig_from(h, {"battery-lead": "off"})


@lru_cache(maxsize=32)
def symptom_tests(h: Harness) -> tuple[Test, ...]:
    """Return the looks at every consumer in its own ordinary rigs."""
    return tuple(Test(rig=c.rig, tool="eye", device=c.device) for c in consumers(h))
