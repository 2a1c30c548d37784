"""What is wrong with a segment, as it is said of ``it``."""

from harness.model import Harness
from harness.segments import Fault
from harness.words import segment_words

_STATES = {
    "open": "open",
    "blown": "blown",
    "dead": "dead inside",
    "weak": "weak",
    "earthed": "chafed through to earth",
    "stuck": "stuck closed",
    "shorted": "shorted inside",
}


def state_words(h: Harness, fault: Fault) -> str:
    """Return what is wrong, without the segment's name: ``with it open``."""
    if fault.moved:
        return "opening when the loom is moved"
    if fault.mode == "resistive":
        return f"making bad contact (about {fault.ohms:.2g} ohm)"
    if fault.mode == "crossed":
        return f"crossed with {segment_words(h, fault.other)}"
    return _STATES[fault.mode]
