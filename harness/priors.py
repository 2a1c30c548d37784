"""How likely each fault is before anything is known.

Rates are relative, our own judgement of decades-old looms (common practice, no source):
contacts that live in the wet and wires that flex fail most, soldered or crimped ends
inside the loom least; bulbs burn out more often than anything else.
"""

from functools import lru_cache

import numpy as np

from harness.circuit import FloatArray
from harness.faults import Fault, single_faults, variants
from harness.kinds import Lamp, Motor
from harness.model import Harness
from harness.segments import Mode, Segment, segments_of

# The chance that nothing is wrong, before the complaint is heard.
NOTHING_WRONG = 0.02

RATES: dict[str, dict[Mode, float]] = {
    "lamp": {"dead": 10.0},
    "load": {"dead": 2.0},
    "motor": {"dead": 2.0},
    "box": {"dead": 2.0},
    "fuse": {"blown": 6.0, "resistive": 1.5},
    "switch": {"open": 2.5, "resistive": 2.0},
    "plug": {"open": 1.5, "resistive": 1.5},
    "joint": {"open": 0.4, "resistive": 0.4},
    "relay": {"open": 1.5, "resistive": 1.0},
    "diode": {"open": 1.0},
    "battery": {"weak": 8.0, "dead": 1.0},
    "charger": {"dead": 2.0},
    "wire": {"open": 1.0, "resistive": 0.5, "earthed": 0.4},
    "cable": {"open": 0.5, "resistive": 0.5, "earthed": 0.2},
    "strap": {"open": 1.5, "resistive": 2.0},
    "mount": {"open": 1.0, "resistive": 2.0},
}


def kind_of_segment(h: Harness, segment: Segment) -> str:
    """Return the row of the table of rates that a segment belongs to."""
    if segment.kind == "wire":
        return h.wires[segment.owner].kind
    if segment.kind == "device":
        spec = h.devices[segment.owner].spec
        names = {Lamp: "lamp", Motor: "motor"}
        return names.get(type(spec), h.devices[segment.owner].kind)
    return segment.kind


@lru_cache(maxsize=32)
def default_rates(h: Harness) -> dict[tuple[str, Mode], float]:
    """Return the relative rate of each segment and mode."""
    return {
        (s.name, mode): RATES[kind_of_segment(h, s)][mode]
        for s in segments_of(h).values()
        for mode in s.modes
    }


def log_priors(
    h: Harness, rates: dict[tuple[str, Mode], float] | None = None
) -> FloatArray:
    """Return the log prior of no fault, then of every single fault.

    Parameters
    ----------
    h : Harness
    rates : dict of (segment, mode) to float, optional
        Relative rates that replace the defaults of those segments and modes.

    Returns
    -------
    ndarray of float, shape (1 + n_faults,)
        Normalised; order of `faults.single_faults`.
    """
    merged = {**default_rates(h), **(rates or {})}
    segments = segments_of(h)

    def rate(fault: Fault) -> float:
        share = len(variants(segments[fault.segment], fault.mode))
        return merged[fault.segment, fault.mode] / share

    weights = np.array([rate(fault) for fault in single_faults(h)])
    weights = (1.0 - NOTHING_WRONG) * weights / weights.sum()
    out: FloatArray = np.log(np.concatenate([[NOTHING_WRONG], weights]))
    return out
