"""What a fault does to a network, as few elementary edits.

The same edits are carried out on the arrays of a network (`faults.with_fault`) and as
rank-one changes of its inverse (`ports.py`), so that both know the same faults.
"""

from dataclasses import dataclass

from harness.circuit import Network
from harness.kinds import Body, Switch
from harness.model import Harness
from harness.segments import Fault, segments_of

CHAFED_OHM = 0.05
WEAK_EMF_RATIO = 0.8


@dataclass(frozen=True, slots=True)
class Cut:
    """A branch that carries nothing any more."""

    branch: int


@dataclass(frozen=True, slots=True)
class Series:
    """A branch with a resistance added in series, or its voltage scaled."""

    branch: int
    ohm: float = 0.0
    emf_ratio: float = 1.0


@dataclass(frozen=True, slots=True)
class Held:
    """A relay's contact that is shut whatever its coil does."""

    branch: int


@dataclass(frozen=True, slots=True)
class Shunt:
    """A resistance between two points, each a node or the middle of a branch.

    A middle is given as ``-1 - branch``.
    """

    one: int
    other: int
    ohm: float


Edit = Cut | Series | Held | Shunt


def middle_of(branch: int) -> int:
    """Return the point that stands for the middle of a branch."""
    return -1 - branch


def edits(h: Harness, net: Network, fault: Fault) -> tuple[Edit, ...]:
    """Return what a fault changes in a network; nothing where it has no part in it."""
    if fault.moved:
        return ()
    if fault.mode in {"stuck", "shorted"}:
        return _joined(h, net, fault)
    k = net.branch_of.get(fault.segment)
    if k is None:
        return ()
    match fault.mode:
        case "open" | "blown" | "dead":
            return (Cut(k),)
        case "weak" if fault.ohms == 0.0:
            return (Series(k, emf_ratio=WEAK_EMF_RATIO),)
        case "resistive" | "weak":
            return (Series(k, ohm=fault.ohms),)
        case "crossed":
            return _crossed(net, k, fault.other)
        case _:
            return _earthed(h, net, k)


def _joined(h: Harness, net: Network, fault: Fault) -> tuple[Edit, ...]:
    segment = segments_of(h)[fault.segment]
    if segment.owner in net.absent:
        return ()
    one, other = (net.node_of[end] for end in segment.ends)
    if fault.mode == "shorted":
        return (Shunt(one, other, CHAFED_OHM),)
    k = net.branch_of.get(fault.segment)
    if k is not None and net.coil_of[k] >= 0:
        return (Held(k),)
    spec = h.devices[segment.owner].spec
    assert isinstance(spec, Switch)  # noqa: S101 - only switches and relays stick
    pins = fault.segment.rpartition(".")[2]
    shut = (f"switch:{segment.owner}.{p}.{pins}" for p in spec.positions)
    if any(name in net.branch_of for name in shut):
        return ()
    return (Shunt(one, other, spec.ohms),)


def _crossed(net: Network, k: int, other: str) -> tuple[Edit, ...]:
    m = net.branch_of.get(other)
    if m is None:
        return ()
    if net.segments[k].startswith("wire:"):
        return (Shunt(middle_of(k), middle_of(m), CHAFED_OHM),)
    a, b, ohm = net.a, net.b, 1.0 / float(net.g_s[k])
    return (
        Shunt(int(a[k]), int(b[m]), ohm),
        Shunt(int(a[m]), int(b[k]), ohm),
        Cut(k),
        Cut(m),
    )


def _earthed(h: Harness, net: Network, k: int) -> tuple[Edit, ...]:
    body = nearest_body(h, net.segments[k].partition(":")[2])
    if body is None:
        return ()
    return (Shunt(middle_of(k), net.node_of[body], CHAFED_OHM),)


def nearest_body(h: Harness, wire_id: str) -> str | None:
    """Return a terminal of the body that a wire would chafe through to.

    The body in the wire's own place, or in that of a device at its ends; else the
    first body of the harness.
    """
    wire = h.wires[wire_id]
    ends = [h.devices[t.partition(".")[0]] for t in (wire.start, wire.end)]
    places = [wire.place, *(device.place for device in ends)]
    bodies = [d for d in h.devices.values() if isinstance(d.spec, Body) and d.pins]
    for place in places:
        for body in bodies:
            if place is not None and body.place == place:
                return f"{body.id}.{body.pins[0]}"
    return h.first_body
