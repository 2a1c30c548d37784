"""Pulling a plug or a fuse as a move: what a technician does to close in on a short.

With a fuse out and a test lamp across its holder, the lamp lights as long as the short
is there; unplugging one plug after another shows behind which it lies. With the battery
lead lifted an ohmmeter shows the same, and at the fuse it looks into whatever the
switches then join. These rigs are many, so they are offered only
while shorts are among the suspects, or where unplugging parts what hangs together.
"""

from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from harness.circuit import FloatArray
from harness.consumers import ordinary_rigs
from harness.kinds import Fuse, Plug
from harness.model import Harness
from harness.network import compile_network
from harness.offered import Block, fuse_ends
from harness.rig import Rig, rig_from
from harness.sets import FaultSet
from harness.solver import solve_network

# Shorts must make up this share of the suspicion before a plug is pulled for one.
SHORTS_SHARE = 0.1
MOST_FUSES = 2
MOST_PLUGS = 8
MOST_RIGS, RIGS_UNPLUGGED = 6, 2


def move_blocks(
    h: Harness, wanted: Sequence[FaultSet], weight: FloatArray
) -> tuple[Block, ...]:
    """Return the tests with something pulled that may be worth it.

    Parameters
    ----------
    h : Harness
    wanted : sequence of tuple of Fault
        The sets considered.
    weight : ndarray of float, shape (len(wanted),)
    """
    short = np.array([any(f.is_short for f in faults) for faults in wanted])
    if float(weight[short].sum()) < SHORTS_SHARE:
        return ()
    return _blocks(h)


@lru_cache(maxsize=8)
def _blocks(h: Harness) -> tuple[Block, ...]:
    blocks: list[Block] = []
    plugs = [d.id for d in h.devices.values() if isinstance(d.spec, Plug)][:MOST_PLUGS]
    for fuse, rigs in _fed_through_fuses(h)[:MOST_FUSES]:
        pair = (f"{fuse}.1", f"{fuse}.2")
        whole = [(rig, ()) for rig in rigs[:MOST_RIGS]]
        parted = [(rig, (plug,)) for rig in rigs[:RIGS_UNPLUGGED] for plug in plugs]
        for rig, pulled in (*whole, *parted):
            moved = {**rig.as_mapping(), "removed": [fuse], "unplugged": list(pulled)}
            blocks.append(Block("test-lamp", rig_from(h, moved), (pair,)))
    for rig in ordinary_rigs(h):
        if rig.moved and rig.engine == "stopped":
            lifted = rig_from(h, {**rig.as_mapping(), "battery-lead": "off"})
            node, body = compile_network(h, lifted).node_of, h.first_body
            if body is not None and (ends := fuse_ends(h, node, body)):
                blocks.append(Block("ohmmeter", lifted, ends))
    for plug in plugs:
        rig = rig_from(h, {"battery-lead": "off", "unplugged": [plug]})
        if pairs := _faces(h, rig, plug):
            blocks.append(Block("ohmmeter", rig, pairs))
    return tuple(blocks)


@lru_cache(maxsize=8)
def _fed_through_fuses(h: Harness) -> tuple[tuple[str, tuple[Rig, ...]], ...]:
    """Return each fuse with ordinary rigs, the fuse that feeds most first.

    The rigs in which it feeds least come first: there a lamp in its place is lit by a
    short and by little else.
    """
    fuses = [d.id for d in h.devices.values() if isinstance(d.spec, Fuse)]
    load: dict[str, list[tuple[float, Rig]]] = {fuse: [] for fuse in fuses}
    for rig in ordinary_rigs(h):
        if rig.engine == "stopped":
            net = compile_network(h, rig)
            amps = solve_network(net).amps
            for fuse in fuses:
                flows = abs(float(amps[net.branch_of[f"fuse:{fuse}"]]))
                load[fuse].append((round(flows, 6), rig))
    ranked = sorted(fuses, key=lambda fuse: (-max(a for a, _ in load[fuse]), fuse))
    return tuple(
        (fuse, tuple(rig for _, rig in sorted(load[fuse], key=lambda item: item[0])))
        for fuse in ranked
    )


def _faces(h: Harness, rig: Rig, plug: str) -> tuple[tuple[str, str], ...]:
    """Return both faces of a plug's cavities against the body."""
    body = h.first_body
    node = compile_network(h, rig).node_of
    if body is None:
        return ()
    return tuple(
        (pin, body)
        for pin in (f"{plug}.{p}" for p in h.devices[plug].pins)
        if node[pin] != node[body]
    )
