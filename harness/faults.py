"""Every single fault of a harness, and networks with faults put in.

A bad contact has an added resistance, one of three representative sizes while
searching; `sizes.py` adds those between that the findings speak for.
"""

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from typing import cast

import numpy as np

from harness.circuit import Network, Role, with_extra
from harness.edits import Cut, Edit, Held, Series, edits
from harness.errors import HarnessError, Problem
from harness.model import Harness
from harness.neighbours import neighbours_of
from harness.segments import Fault, Mode, Segment, segments_of

__all__ = [
    "BAD_CONTACT_OHM",
    "DEFAULT_BAD_CONTACT_OHM",
    "WEAK_BATTERY_OHM",
    "Fault",
    "fault_from",
    "single_faults",
    "variants",
    "with_fault",
    "with_faults",
]

BAD_CONTACT_OHM = (0.3, 3.0, 30.0)
DEFAULT_BAD_CONTACT_OHM = 3.0
WEAK_BATTERY_OHM = 0.6
# Contacts that a pull on the loom may part: not those inside relays and fuses.
_PARTED_BY_HAND = {"wire", "plug", "switch", "joint"}


def variants(h: Harness, segment: Segment, mode: Mode) -> tuple[Fault, ...]:
    """Return the faults that stand for a mode while searching."""
    name = segment.name
    match mode:
        case "resistive":
            return tuple(Fault(name, mode, ohm) for ohm in BAD_CONTACT_OHM)
        case "weak":
            return (Fault(name, mode), Fault(name, mode, WEAK_BATTERY_OHM))
        case "crossed":
            others = neighbours_of(h)[name]
            return tuple(Fault(name, mode, other=o) for o in others if o > name)
        case "open" if segment.kind in _PARTED_BY_HAND:
            return (Fault(name, mode), Fault(name, mode, moved=True))
        case _:
            return (Fault(name, mode),)


@lru_cache(maxsize=32)
def single_faults(h: Harness) -> tuple[Fault, ...]:
    """Return every single fault considered, in order of segment and mode."""
    return tuple(
        fault
        for segment in segments_of(h).values()
        for mode in segment.modes
        for fault in variants(h, segment, mode)
    )


def fault_from(h: Harness, given: Sequence[object]) -> Fault:
    """Read ``(segment, mode)``, with a third part where the mode takes one.

    The third part is the ohms of a bad contact (3 unless given), or the neighbour that
    a crossed segment meets (its first unless given).

    Raises
    ------
    HarnessError
        When the harness has no such segment, the segment no such mode, or the mode no
        such third part.
    """
    name, mode = (str(part) for part in given[:2])
    segment = segments_of(h).get(name)
    if segment is None:
        raise _refused(name, "this harness has no such segment", "name one it has")
    if mode not in segment.modes:
        known = ", ".join(segment.modes)
        raise _refused(name, f"{mode!r} cannot happen to it", f"use one of: {known}")
    third = given[2] if len(given) > 2 else None  # noqa: PLR2004 - the third part
    if mode == "crossed":
        return _crossed_from(h, name, third)
    ohms = DEFAULT_BAD_CONTACT_OHM if mode == "resistive" else 0.0
    if third is not None:
        ohms = float(str(third))
        if not (np.isfinite(ohms) and ohms > 0):
            raise _refused(name, f"{third} ohm is not positive", "give ohms")
    return Fault(name, cast("Mode", mode), ohms)


def _crossed_from(h: Harness, name: str, third: object) -> Fault:
    others = neighbours_of(h)[name]
    other = others[0] if third is None else str(third)
    if other not in others:
        mend = f"name a neighbour of it: {', '.join(others)}"
        raise _refused(name, f"{other} is no neighbour of it", mend)
    first, second = sorted((name, other))
    return Fault(first, "crossed", other=second)


def _refused(where: str, what: str, mend: str) -> HarnessError:
    return HarnessError((Problem(what=what, where=where, mend=mend),))


def with_fault(h: Harness, net: Network, fault: Fault) -> Network:
    """Return the network with a fault put in.

    A segment that is not in the network (a contact of another switch position, a device
    taken out) changes nothing. The chafed point of a wire is its middle.
    """
    for edit in edits(h, net, fault):
        net = _edited(net, edit)
    return net


def with_faults(h: Harness, net: Network, faults: Sequence[Fault]) -> Network:
    """Return the network with several faults put in, those that join first.

    What joins points is found on the branches as drawn; cutting them comes after.
    """
    found = [edit for fault in faults for edit in edits(h, net, fault)]
    for edit in sorted(found, key=lambda e: isinstance(e, Cut)):
        net = _edited(net, edit)
    return net


def _edited(net: Network, edit: Edit) -> Network:
    match edit:
        case Cut(k):
            return _without_branch(net, k)
        case Held(k):
            role, coil_of = net.role.copy(), net.coil_of.copy()
            role[k], coil_of[k] = int(Role.FIXED), -1
            return replace(net, role=role, coil_of=coil_of)
        case Series(k, ohm, ratio):
            g_s, emf_v = net.g_s.copy(), net.emf_v.copy()
            g_s[k] = 1.0 / (1.0 / g_s[k] + ohm)
            emf_v[k] *= ratio
            return replace(net, g_s=g_s, emf_v=emf_v)
        case _:
            net, one = _point(net, edit.one)
            net, other = _point(net, edit.other)
            return with_extra(net, [("/joined", one, other, 1.0 / edit.ohm)])


def _point(net: Network, point: int) -> tuple[Network, int]:
    """Return a node for a point; the middle of a branch becomes one."""
    if point >= 0:
        return net, point
    k, middle = -1 - point, len(net.nodes)
    far, half_s = int(net.b[k]), 2 * float(net.g_s[k])
    b, g_s = net.b.copy(), net.g_s.copy()
    b[k], g_s[k] = middle, half_s
    halved = replace(net, b=b, g_s=g_s)
    return with_extra(
        halved, [(f"{net.segments[k]}/rest", middle, far, half_s)]
    ), middle


def _without_branch(net: Network, k: int) -> Network:
    """Keep the branch, so that indices stand, but as a stub from a node to itself."""
    b = net.b.copy()
    b[k] = net.a[k]
    emf_v, role, coil_of = net.emf_v.copy(), net.role.copy(), net.coil_of.copy()
    emf_v[k], role[k], coil_of[k] = 0.0, int(Role.FIXED), -1
    return replace(net, b=b, emf_v=emf_v, role=role, coil_of=coil_of)
