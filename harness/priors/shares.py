"""How the rate of a segment's mode is shared among the faults that stand for it.

The sizes of a bad contact, the two ways of a weak battery and the neighbours that a
wire may meet have equal shares. Of the open contacts, some are open only while the loom
is being moved: those have a share of their own, by kind. The shares of a mode sum to 1.
"""

from collections import Counter
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

import numpy as np

from harness.circuit import FloatArray
from harness.faults import single_faults
from harness.model import Harness
from harness.priors.segment_kinds import kind_of_segment
from harness.segments import Fault, segments_of


@dataclass(frozen=True, slots=True)
class MovedShare:
    """One row: of a kind's open contacts, the part that is open only when moved."""

    kind: str
    share: float
    reason: str


# Common practice, no source.
MOVED_TABLE: tuple[MovedShare, ...] = (
    MovedShare("wire", 0.25, "Broken strands touch again inside the insulation."),
    MovedShare("cable", 0.15, "A thick cable springs back less when strands part."),
    MovedShare("strap", 0.15, "A frayed braid is seen, and mostly parts for good."),
    MovedShare("mount", 0.25, "A loose bolt makes contact until something shakes."),
    MovedShare("plug", 0.35, "A terminal that backs out still touches at rest."),
    MovedShare("switch", 0.25, "A loose rivet or weak spring makes it by luck."),
    MovedShare("joint", 0.25, "A cracked soldered joint closes again at rest."),
)
MOVED_SHARE = MappingProxyType({row.kind: row.share for row in MOVED_TABLE})


@lru_cache(maxsize=32)
def variant_shares(h: Harness) -> FloatArray:
    """Return the share of each single fault in the rate of its segment and mode.

    Returns
    -------
    ndarray of float, shape (n_faults,)
        Order of `faults.single_faults`; read-only.
    """
    faults = single_faults(h)
    count = Counter((f.segment, f.mode, f.moved) for f in faults)

    def share(fault: Fault) -> float:
        alike = 1.0 / count[fault.segment, fault.mode, fault.moved]
        if not count[fault.segment, fault.mode, not fault.moved]:
            return alike
        moved = MOVED_SHARE[kind_of_segment(h, segments_of(h)[fault.segment])]
        return alike * (moved if fault.moved else 1.0 - moved)

    out: FloatArray = np.array([share(fault) for fault in faults])
    out.flags.writeable = False
    return out
