"""How far apart tests read, in units of what can be told apart."""

from harness.circuit import FloatArray
from harness.findings import Test, is_fuse
from harness.information import APART, WORDS_APART
from harness.likelihood import (
    amp_scale,
    eye_chances,
    fuse_chances,
    lamp_chances,
    ohm_scale,
    volt_scale,
)
from harness.model import Harness


def places(h: Harness, test: Test, shown: FloatArray) -> FloatArray:
    """Return where readings lie on a scale on which one apart is told apart.

    Parameters
    ----------
    test : Test
        Its tool, or the device that the eye looks at, says what is shown; others of the
        same kind may be passed along with it.
    shown : ndarray of float
    """
    out: FloatArray
    if test.tool == "voltmeter":
        out = volt_scale(shown) / APART
    elif test.tool == "ohmmeter":
        out = ohm_scale(shown) / APART
    elif test.tool == "ammeter":
        out = amp_scale(shown) / APART
    else:
        chances = _chances(h, test, shown)
        out = (chances[-1] - chances[0]) / WORDS_APART
    return out


def _chances(h: Harness, test: Test, shown: FloatArray) -> FloatArray:
    if test.tool == "test-lamp":
        return lamp_chances(shown, h.volts)
    return fuse_chances(shown) if is_fuse(h, test.device) else eye_chances(shown)
