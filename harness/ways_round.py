"""Pairs of segments that are each other's only other way."""

from functools import lru_cache

import numpy as np

from harness.bases import factorise
from harness.consumers import ordinary_rigs
from harness.model import Harness
from harness.network import compile_network
from harness.ports import NO_OTHER_WAY
from harness.solver import solve_network

CARRIES_A = 1e-4
# Of two branches the share that a third way would leave.
NO_OTHER_WAY_TOGETHER = 0.02


@lru_cache(maxsize=8)
def only_together(h: Harness) -> tuple[tuple[str, str], ...]:
    """Return pairs of segments that are each other's only other way in some rig.

    Opening either leaves the current a way round; opening both leaves none. Two earths
    side by side are such a pair.
    """
    found: set[tuple[str, str]] = set()
    for rig in ordinary_rigs(h):
        net = compile_network(h, rig)
        base = factorise(net, solve_network(net).on.tobytes())
        k = np.flatnonzero(base.on)
        columns = base.near_ohm[net.a[k]] - base.near_ohm[net.b[k]]
        r = columns[:, net.a[k]] - columns[:, net.b[k]]
        scaled = base.g_s[k][:, None] * r
        other_way = 1.0 - np.diag(scaled)
        free = other_way > NO_OTHER_WAY
        alone = other_way[:, None] * other_way[None, :]
        closed = alone - scaled * scaled.T < NO_OTHER_WAY_TOGETHER * alone
        closed &= free[:, None] & free[None, :]
        # Two in one path are each other's only way as well, yet opening either is
        # enough: what counts is that each still carries current with the other open.
        amps = base.g_s[k] * (
            base.volts[net.a[k]] - base.volts[net.b[k]] - net.emf_v[k]
        )
        with np.errstate(divide="ignore", invalid="ignore"):
            carried = amps[:, None] + scaled * (amps / other_way)[None, :]
        live = np.abs(carried) > CARRIES_A
        closed &= live & live.T
        for i, j in np.argwhere(np.triu(closed, 1)).tolist():
            names = sorted((net.segments[int(k[i])], net.segments[int(k[j])]))
            found.add((names[0], names[1]))
    return tuple(sorted(found))
