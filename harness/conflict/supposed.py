"""What tests would show on a bike that is not as drawn, with faults in it or none.

A wire on another pin is a low-rank change of the network as drawn, like a fault; so
many suppositions are solved together.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from harness.circuit import FloatArray, IntArray
from harness.conflict.redrawing import Redrawn, edits_for
from harness.edit_arrays import arrays_of, edit_arrays
from harness.findings import Finding, Test
from harness.network import compile_network
from harness.predictions import log_chance
from harness.readings import ohmmeter_ohm, test_lamp_v, voltmeter_v
from harness.rig import Rig
from harness.segments import Fault
from harness.sets import FaultSet, Sets
from harness.tables import Build, RigTable, solve_edits

AS_DRAWN = Redrawn(())


@dataclass(frozen=True, slots=True)
class Supposed:
    """What may be so: how the loom differs from the drawing, and what is wrong."""

    redrawn: Redrawn
    faults: FaultSet = ()


def shown_if(
    sets: Sets, tests: Sequence[Test], supposed: Sequence[Supposed]
) -> FloatArray:
    """Return what tests would show under each supposition.

    Returns
    -------
    ndarray of float, shape (n_tests, n_supposed)
        As `Predictions.shown`; NaN also for a clamp round a wire that is moved.
    """
    out = np.full((len(tests), len(supposed)), np.nan)
    for rig in dict.fromkeys(test.rig for test in tests):
        table = _table(sets, rig, supposed)
        here = [i for i, test in enumerate(tests) if test.rig == rig]
        for tool in dict.fromkeys(tests[i].tool for i in here):
            same = [i for i in here if tests[i].tool == tool]
            out[same] = _read(sets, table, [tests[i] for i in same], supposed)
    return out


_INSTRUMENTS = {
    "test-lamp": test_lamp_v,
    "voltmeter": voltmeter_v,
    "ohmmeter": ohmmeter_ohm,
}


def _read(
    sets: Sets, table: RigTable, tests: Sequence[Test], supposed: Sequence[Supposed]
) -> FloatArray:
    """Return what tests of one tool show, shape (n_tests, n_supposed)."""
    tool = tests[0].tool
    if tool in _INSTRUMENTS:
        node, rows = table.net.node_of, np.arange(table.count, dtype=np.intp)
        probe = np.array([node[test.probe] for test in tests], dtype=np.intp)
        clip = np.array([node[test.clip] for test in tests], dtype=np.intp)
        return _INSTRUMENTS[tool](table, rows, probe, clip).T
    faults = [one.faults for one in supposed]
    out = np.stack([sets.read(table, test, faults) for test in tests])
    if tool == "ammeter":
        for i, test in enumerate(tests):
            name = f"wire:{test.wire}"
            out[i, [name in one.redrawn.segments for one in supposed]] = np.nan
    return out


def log_likelihood_if(
    sets: Sets, findings: Sequence[Finding], supposed: Sequence[Supposed]
) -> FloatArray:
    """Return how likely findings are under each supposition, as logarithms.

    Returns
    -------
    ndarray of float, shape (n_findings, n_supposed)
    """
    shown = shown_if(sets, [finding.test for finding in findings], supposed)
    h = sets.predictions.h
    logs = [log_chance(h, f, row) for f, row in zip(findings, shown, strict=True)]
    return np.array(logs).reshape(len(findings), len(supposed))


def _table(sets: Sets, rig: Rig, supposed: Sequence[Supposed]) -> RigTable:
    h = sets.predictions.h
    net = compile_network(h, rig)
    singles: list[Fault | None] = [None]
    singles += dict.fromkeys(f for one in supposed for f in one.faults)
    drawn = list(dict.fromkeys(one.redrawn for one in supposed))
    moved = arrays_of(net, [edits_for(h, net, rig, one) for one in drawn])
    edits = edit_arrays(h, net, singles).with_more(moved)
    row_of_fault = {fault: row for row, fault in enumerate(singles)}
    row_of_drawing = {one: row for row, one in enumerate(drawn, start=len(singles))}
    most = max((len(one.faults) for one in supposed), default=0)
    members: IntArray = np.zeros((len(supposed), 1 + most), dtype=np.intp)
    for row, one in enumerate(supposed):
        members[row, 0] = row_of_drawing[one.redrawn]
        members[row, 1 : 1 + len(one.faults)] = [row_of_fault[f] for f in one.faults]
    opened = [sets.opened(one.faults) for one in supposed]
    return solve_edits(h, rig, Build(net, edits.together(members), opened))
