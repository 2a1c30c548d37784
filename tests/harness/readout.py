"""What a tool shows, of one circuit and of the tables alike."""

from collections.abc import Mapping

import pytest

from harness.faults import Fault, with_fault
from harness.model import Harness
from harness.network import compile_network
from harness.rig import rig_from
from tests.harness.compared import fresh_table, from_circuit, from_table
from tests.harness.direct import Bench

# What the tables may differ by from one circuit, in volts, amperes or ohms.
MOST_APART = 1e-4


def amps(h: Harness, rig: Mapping[str, object], wire: str, *faults: Fault) -> float:
    """Return what a clamp round a wire reads, found in both ways."""
    return read(h, rig, "ammeter", (wire,), *faults)


def volts(
    h: Harness, rig: Mapping[str, object], terminal: str, *faults: Fault
) -> float:
    """Return what a voltmeter shows against the frame, found in both ways."""
    assert h.first_body is not None
    return read(h, rig, "voltmeter", (terminal, h.first_body), *faults)


def read(
    h: Harness,
    rig: Mapping[str, object],
    tool: str,
    place: tuple[str, ...],
    *faults: Fault,
) -> float:
    placed = rig_from(h, rig)
    alone = from_circuit(Bench(h, placed, faults), tool, place)
    table = fresh_table(h, placed, [(), faults])
    assert float(from_table(table, tool, place)[1]) == pytest.approx(
        alone, abs=MOST_APART
    )
    return alone


def is_untouched(h: Harness, rig: Mapping[str, object], fault: Fault) -> bool:
    """Tell whether a fault leaves the network of a rig as it was."""
    net = compile_network(h, rig_from(h, rig))
    return with_fault(h, net, fault) is net
