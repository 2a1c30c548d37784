"""What one test would show on a bike with given faults, solved directly.

The tables answer this for every single fault at once; this answers it for any number of
faults, one test at a time: for a rehearsal at the bench, and to judge a repair.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from harness.circuit import Network, Role
from harness.consumers import ordinary_rigs
from harness.errors import SingularNetwork
from harness.faults import fault_from, with_faults
from harness.findings import (
    EYE_READS,
    LAMP_READS,
    Test,
    is_fuse,
    moved_while_read,
    segment_seen,
    test_from,
)
from harness.likelihood import eye_chances, lamp_chances
from harness.model import Harness
from harness.network import compile_network
from harness.predictions import HEALTHY_SHARE
from harness.readings import (
    OPEN_ABOVE_OHM,
    VOLTMETER_OHM,
    test_lamp_ohm,
    with_branch,
)
from harness.segments import Fault, Mode, segments_of
from harness.solver import islands, solve_network

# What leaves no new way for a current, and so blows no fuse.
NO_SHORT: frozenset[Mode] = frozenset({"open", "resistive", "blown", "weak", "dead"})
# A consumer with one of these does nothing, whatever its volts; a fuse is open.
_LIFELESS: frozenset[Mode] = frozenset({"open", "blown", "dead", "shorted"})
# The meter's own current, A: too little to turn a diode on or to warm a filament.
OHMMETER_A = 1e-6


def shown(
    h: Harness,
    test: Mapping[str, object],
    *,
    faults: Sequence[Sequence[object] | Fault] = (),
) -> str | float:
    """Return what a test would show.

    Parameters
    ----------
    h : Harness
    test : mapping
        As a finding without its reading: ``rig``, ``tool``; ``probe`` and ``clip``,
        ``device`` or ``wire``; ``moving`` where the loom is moved meanwhile.
    faults : sequence of Fault, or as `fault_from` takes them
        An intermittent contact is open while the loom is moved, and sound at rest.

    Returns
    -------
    str or float
        A word, ``open``, volts, ohms or amperes.

    Raises
    ------
    HarnessError
        When the test or a fault names what is not there, or cannot be.
    SingularNetwork
        When the bike comes to no steady state, such as a relay that chatters.
    """
    moving = moved_while_read(test, where="test")
    asked = test_from(h, test, where="test")
    there = [f if isinstance(f, Fault) else fault_from(h, f) for f in faults]
    put_in = [replace(f, moved=False) for f in there if moving or not f.moved]
    net = with_faults(h, compile_network(h, asked.rig), put_in)
    opened = opened_before(h, there)
    blown = tuple(net.branch_of[f] for f in sorted(opened) if f in net.branch_of)
    if asked.tool == "eye":
        return _seen(h, asked, net, blown, put_in)
    if asked.tool == "ammeter":
        amps = solve_network(net, blown=blown).amps
        return float(amps[net.branch_of[f"wire:{asked.wire}"]])
    probe, clip = net.node_of[asked.probe], net.node_of[asked.clip]
    if asked.tool == "ohmmeter":
        return _ohms(net, probe, clip)
    lamp = asked.tool == "test-lamp"
    ohm = test_lamp_ohm(h.volts) if lamp else VOLTMETER_OHM
    volts = solve_network(with_branch(net, probe, clip, ohm), blown=blown).volts
    across = float(volts[probe] - volts[clip])
    if not lamp:
        return across
    chances = lamp_chances(np.array([across]), h.volts)
    return LAMP_READS[int(chances[:, 0].argmax())]


def opened_before(h: Harness, faults: Sequence[Fault]) -> frozenset[str]:
    """Return the fuses that shorts have opened by the time anyone tests.

    Each short has opened what it opens by itself, on the day that it came: what else is
    wrong came before or after, and nobody knows which.
    """
    return frozenset().union(*(opened_by(h, f) for f in faults if not f.moved))


def opened_by(h: Harness, fault: Fault) -> frozenset[str]:
    """Return the fuses that one fault opens while the bike is used.

    A rig in which the bike then comes to no steady state (a relay chatters) is passed
    over: what it opens is not known.
    """
    opened: frozenset[str] = frozenset()
    if fault.mode in NO_SHORT:
        return opened
    for rig in ordinary_rigs(h):
        net = with_faults(h, compile_network(h, rig), [fault])
        gone = tuple(net.branch_of[f] for f in sorted(opened) if f in net.branch_of)
        try:
            solution = solve_network(net, blown=gone)
        except SingularNetwork:
            continue
        opened |= {net.segments[k] for k in solution.blown}
    return opened


def _seen(
    h: Harness,
    test: Test,
    net: Network,
    blown: tuple[int, ...],
    faults: Sequence[Fault],
) -> str:
    segment = segment_seen(h, test.device)
    solution = solve_network(net, blown=blown)
    broken = any(f.segment == segment and f.mode in _LIFELESS for f in faults)
    if is_fuse(h, test.device):
        gone = {net.segments[k] for k in solution.blown}
        return "blown" if broken or segment in gone else "intact"
    one, two = (net.node_of[end] for end in segments_of(h)[segment].ends)
    sound = compile_network(h, test.rig)
    sound_v = solve_network(sound).volts
    healthy = abs(float(sound_v[one] - sound_v[two]))
    if healthy < HEALTHY_SHARE * h.volts:
        healthy = h.volts
    drop = abs(float(solution.volts[one] - solution.volts[two]))
    share = 0.0 if broken else drop / healthy
    return EYE_READS[int(eye_chances(np.array([share]))[:, 0].argmax())]


def _ohms(net: Network, probe: int, clip: int) -> str | float:
    """Return the resistance between two points with every source dead."""
    quiet = np.where(net.role == Role.SOURCE, 0.0, net.emf_v)
    dead = replace(net, emf_v=quiet)
    before = solve_network(dead)
    joined = islands(dead, before.on)
    if joined[probe] != joined[clip]:
        return "open"
    # One volt behind a megohm drives about a microampere through.
    driven = with_branch(dead, probe, clip, 1.0 / OHMMETER_A)
    emf_v = driven.emf_v.copy()
    emf_v[-1] = 1.0
    volts = solve_network(replace(driven, emf_v=emf_v)).volts
    across = float(volts[probe] - volts[clip])
    ohms = across / ((1.0 - across) * OHMMETER_A)
    return "open" if ohms > OPEN_ABOVE_OHM else ohms
