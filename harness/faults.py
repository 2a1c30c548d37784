"""Faults, and each as a change to the network.

A fault is a segment with a mode; a bad contact has an added resistance, one of three
representative sizes while searching.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from harness.circuit import Network, Role
from harness.errors import HarnessError, Problem
from harness.kinds import Body
from harness.model import Harness
from harness.segments import Mode, Segment, segments_of

BAD_CONTACT_OHM = (0.3, 3.0, 30.0)
DEFAULT_BAD_CONTACT_OHM = 3.0
CHAFED_OHM = 0.05
WEAK_EMF_RATIO = 0.8
WEAK_BATTERY_OHM = 0.6


@dataclass(frozen=True, slots=True, order=True)
class Fault:
    """One thing wrong: a segment, how, and for a bad contact how many ohms.

    For a weak battery `ohms` is the added resistance; zero means a low voltage.
    """

    segment: str
    mode: Mode
    ohms: float = 0.0


def variants(segment: Segment, mode: Mode) -> tuple[Fault, ...]:
    """Return the faults that stand for a mode while searching."""
    if mode == "resistive":
        return tuple(Fault(segment.name, mode, ohm) for ohm in BAD_CONTACT_OHM)
    if mode == "weak":
        return (
            Fault(segment.name, mode, 0.0),
            Fault(segment.name, mode, WEAK_BATTERY_OHM),
        )
    return (Fault(segment.name, mode),)


@lru_cache(maxsize=32)
def single_faults(h: Harness) -> tuple[Fault, ...]:
    """Return every single fault considered, in order of segment and mode."""
    return tuple(
        fault
        for segment in segments_of(h).values()
        for mode in segment.modes
        for fault in variants(segment, mode)
    )


def fault_from(h: Harness, given: Sequence[object]) -> Fault:
    """Read ``(segment, mode)`` or ``(segment, mode, ohms)``.

    Raises
    ------
    HarnessError
        When the harness has no such segment, or the segment no such mode.
    """
    name, mode = (str(part) for part in given[:2])
    segment = segments_of(h).get(name)
    if segment is None:
        raise _refused(name, "this harness has no such segment", "name one it has")
    if mode not in segment.modes:
        known = ", ".join(segment.modes)
        raise _refused(name, f"{mode!r} cannot happen to it", f"use one of: {known}")
    ohms = DEFAULT_BAD_CONTACT_OHM if mode == "resistive" else 0.0
    if len(given) > 2:  # noqa: PLR2004 - the third part is the ohms
        ohms = float(str(given[2]))
        if not (np.isfinite(ohms) and ohms > 0):
            raise _refused(name, f"{given[2]} ohm is not positive", "give ohms")
    return Fault(name, mode, ohms)


def _refused(where: str, what: str, mend: str) -> HarnessError:
    return HarnessError((Problem(what=what, where=where, mend=mend),))


@lru_cache(maxsize=4096)
def nearest_body(h: Harness, wire_id: str) -> str | None:
    """Return a terminal of the body that a wire would chafe through to.

    The body in the wire's own place, or in that of a device at its ends; else the
    first body of the harness.
    """
    wire = h.wires[wire_id]
    ends = [
        h.devices[terminal.partition(".")[0]] for terminal in (wire.start, wire.end)
    ]
    places = [wire.place, *(device.place for device in ends)]
    bodies = [d for d in h.devices.values() if isinstance(d.spec, Body) and d.pins]
    for place in places:
        for body in bodies:
            if place is not None and body.place == place:
                return f"{body.id}.{body.pins[0]}"
    return h.first_body


def with_fault(h: Harness, net: Network, fault: Fault) -> Network:
    """Return the network with a fault put in.

    A segment that is not in the network (a contact of another switch position, a device
    taken out) changes nothing. The chafed point of a wire is its middle.
    """
    k = net.branch_of.get(fault.segment)
    if k is None:
        return net
    if fault.mode in {"open", "blown", "dead"}:
        return _without_branch(net, k)
    if fault.mode == "earthed":
        return _earthed(h, net, k)
    g_s, emf_v = net.g_s.copy(), net.emf_v.copy()
    if fault.mode == "weak" and fault.ohms == 0.0:
        emf_v[k] *= WEAK_EMF_RATIO
    else:
        g_s[k] = 1.0 / (1.0 / g_s[k] + fault.ohms)
    return replace(net, g_s=g_s, emf_v=emf_v)


def _without_branch(net: Network, k: int) -> Network:
    """Keep the branch, so that indices stand, but as a stub from a node to itself."""
    b = net.b.copy()
    b[k] = net.a[k]
    emf_v, role, coil_of = net.emf_v.copy(), net.role.copy(), net.coil_of.copy()
    emf_v[k], role[k], coil_of[k] = 0.0, int(Role.FIXED), -1
    return replace(net, b=b, emf_v=emf_v, role=role, coil_of=coil_of)


def _earthed(h: Harness, net: Network, k: int) -> Network:
    body = nearest_body(h, net.segments[k].partition(":")[2])
    if body is None:
        return net
    middle = len(net.nodes)
    wire_s = net.g_s[k]
    b = net.b.copy()
    b[k] = middle
    g_s = net.g_s.copy()
    g_s[k] = 2 * wire_s
    return replace(
        net,
        nodes=(*net.nodes, f"{net.segments[k]}/middle"),
        segments=(
            *net.segments,
            f"{net.segments[k]}/rest",
            f"{net.segments[k]}/chafed",
        ),
        a=np.append(net.a, [middle, middle]),
        b=np.append(b, [net.b[k], net.node_of[body]]),
        g_s=np.append(g_s, [2 * wire_s, 1 / CHAFED_OHM]),
        emf_v=np.append(net.emf_v, [0.0, 0.0]),
        limit=np.append(net.limit, [0.0, 0.0]),
        role=np.append(net.role, [int(Role.FIXED)] * 2),
        coil_of=np.append(net.coil_of, [-1, -1]),
    )
